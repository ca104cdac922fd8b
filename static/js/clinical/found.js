/** @import { Found } from "./types-found.js" */
/** @import { Remark, StandingRow } from "./types.js" */
import { HEAVIER } from "./remarks.js";

/**
 * Put a remark in its place.
 * @param {Remark} remark
 * @param {string} path
 * @param {string} [wire]
 * @param {string[]} [evidence]
 * @param {boolean} [stands]
 * @returns {Found}
 */
export function found(remark, path, wire = "", evidence = [], stands = true) {
  return { remark, path, wire, evidence, stands };
}

/**
 * Put a remark at one row that it rests on alone.
 * @param {Remark} one
 * @param {StandingRow} row
 * @param {string} [wire]
 * @param {boolean} [stands]
 * @returns {Found}
 */
export function atRow(one, row, wire = "", stands = true) {
  return found(one, row.path, wire, [row.id], stands);
}

/**
 * Return them by weight, the same never twice, otherwise in the order found.
 * @param {Found[]} all
 * @returns {Found[]}
 */
export function heavierFound(all) {
  /** @type {Map<string, Found>} */
  const once = new Map();
  for (const one of all) if (!once.has(sameness(one))) once.set(sameness(one), one);
  return HEAVIER.flatMap((weight) => [...once.values()].filter((one) => one.remark.weight === weight));
}

/**
 * Return the ids of these rows in the record's order, each once.
 * @param {(StandingRow | null | undefined)[]} rows
 * @returns {string[]}
 */
export function idsInOrder(rows) {
  const told = rows.flatMap((row) => (row ? [row] : []));
  return [...new Set(told.toSorted((a, b) => a.place - b.place).map((row) => row.id))];
}

/** Two are the same when they say the same of the same evidence. @param {Found} one */
function sameness({ remark, path, wire, evidence }) {
  const values = Object.entries(remark.values).sort(([a], [b]) => (a < b ? -1 : 1));
  return JSON.stringify([remark.code, remark.weight, values, path, wire, evidence]);
}
