/** @import { Fold } from "../types.js" */
/** @import { StandingRow } from "./types.js" */
import { PARTS } from "./left_at.js";
import { modeOf } from "./mode.js";
import { point, rowsOf } from "./rows.js";

/**
 * Return every row of settings read back for a wire, in time.
 * @param {Fold} fold
 * @param {string} wire
 * @returns {StandingRow[]}
 */
export function settingsRows(fold, wire) {
  return rowsOf(fold, ...PARTS.map((part) => `wires/${wire}/${part}.dial_left_at`));
}

/**
 * Return since when a wire paces without sensing, or null.
 * @param {Fold} fold
 * @param {string} wire
 * @returns {{since_ms: number, ids: string[]} | null}
 */
export function asynchronous(fold, wire) {
  const run = unsensed(settingsRows(fold, wire));
  if (run.length === 0) return null;
  return { since_ms: run[0].time_ms, ids: run.toSorted((a, b) => a.place - b.place).map((row) => row.id) };
}

/**
 * Return the rows, in time, that leave a wire without sensing up to the last. Mode and
 * sensitivity each stand until they are told anew; rows that tell neither change nothing.
 * Asynchronous told beside such a mode is the mode's own word, and ends with it.
 * @param {StandingRow[]} rows
 * @returns {StandingRow[]}
 */
export function unsensed(rows) {
  let [modeIs, senseIs] = [false, false];
  /** @type {StandingRow[]} */
  let run = [];
  for (const row of rows) {
    const [mode, sense] = [modeOf(row.value.mode), toldAsynchronous(row)];
    if (mode === null && sense === null) continue;
    if (mode) modeIs = mode.is_asynchronous;
    if (sense !== null) senseIs = sense && !modeIs;
    run = modeIs || senseIs ? [...run, row] : [];
  }
  return run;
}

/**
 * Return what a row says of sensing: asynchronous, a sensitivity, or nothing.
 * @param {StandingRow} row
 * @returns {boolean | null}
 */
export function toldAsynchronous({ value }) {
  if (value.asynchronous === "yes") return true;
  return value.asynchronous === "no" || point(value.sensitivity, "mV").n !== null ? false : null;
}
