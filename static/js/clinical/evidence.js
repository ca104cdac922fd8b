/** @import { Fold } from "../types.js" */
/** @import { StandingRow } from "./types.js" */

/**
 * Return the ids of rows in the record's order, each once.
 * @param {StandingRow[]} rows
 * @returns {string[]}
 */
export function inOrder(rows) {
  const ordered = [...rows].sort((a, b) => a.place - b.place);
  return [...new Set(ordered.map((row) => row.id))];
}

/**
 * Return when the record's last entry was made; 0 for an empty record.
 * @param {Fold} fold
 * @returns {number}
 */
export function lastMs(fold) {
  return Object.values(fold.entries).reduce((last, meta) => Math.max(last, meta.time_ms), 0);
}

/**
 * Return the ids behind the answers of these fields, and of rows, in the record's order.
 * @param {Fold} fold
 * @param {string[]} paths
 * @param {StandingRow[]} [rows]
 * @returns {string[]}
 */
export function entriesOf(fold, paths, rows = []) {
  const heads = paths.flatMap((path) => fold.values[path] ?? []);
  const ids = new Set([...rows.map((row) => row.id), ...heads.flatMap((head) => head.entries)]);
  return fold.order.filter((id) => ids.has(id));
}
