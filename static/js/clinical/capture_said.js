/** @import { Fold } from "../types.js" */
/** @import { Said } from "./types-after.js" */
/** @import { StandingRow } from "./types.js" */
import { PARTS } from "./left_at.js";
import { isObject, placesOf, rowsOf } from "./rows.js";

/**
 * Return every answer to a field that nobody has settled, absences left out.
 * @param {Fold} fold
 * @param {string} path
 * @returns {Said[]}
 */
export function said(fold, path) {
  const told = (fold.values[path] ?? []).filter(({ value }) => !(isObject(value) && "absent" in /** @type {object} */ (value)));
  return told.map(({ value, entries }) => {
    const times = entries.map((id) => ({ time_ms: fold.entries[id].time_ms, place: placesOf(fold).get(id) ?? 0 }));
    return { value, ids: [...entries], ...times.toSorted(inTime)[times.length - 1] };
  });
}

/**
 * Return every yes or no to capture of a wire, in time: at the procedure, at checks, lost and
 * regained. A reading inside a test says nothing here.
 * @param {Fold} fold
 * @param {string} wire
 * @returns {Said[]}
 */
export function capturesSaid(fold, wire) {
  const under = `wires/${wire}`;
  const isAnswer = (/** @type {unknown} */ value) => value === "yes" || value === "no";
  const fields = said(fold, `${under}/capture.electrical_capture`).filter(({ value }) => isAnswer(value));
  const checks = rowsOf(fold, `${under}/checks.check`).filter((row) => isAnswer(row.value.electrical_capture));
  const rows = (/** @type {string} */ name) => rowsOf(fold, ...PARTS.map((part) => `${under}/${part}.${name}`));
  return [
    ...fields.map((one) => ({ ...one, value: one.value === "yes" })),
    ...checks.map((row) => saidBy(row, row.value.electrical_capture === "yes")),
    ...rows("capture_lost").map((row) => saidBy(row, false)),
    ...rows("capture_regained").map((row) => saidBy(row, true)),
  ].sort(inTime);
}

/**
 * Return when a wire first captured: in a reading, or as said.
 * @param {Fold} fold
 * @param {string} wire
 * @returns {{time_ms: number, place: number} | null}
 */
export function firstCaptured(fold, wire) {
  const rows = rowsOf(fold, ...PARTS.map((part) => `wires/${wire}/${part}.output_reading`));
  const read = rows.filter((row) => row.value.result === "captures");
  const told = capturesSaid(fold, wire).filter(({ value }) => value === true);
  return [...read, ...told].toSorted(inTime).at(0) ?? null;
}

/** @param {StandingRow} row @param {boolean} value @returns {Said} */
function saidBy({ id, time_ms, place }, value) {
  return { value, ids: [id], time_ms, place };
}

/**
 * Compare in time, and by the record's order where two times are equal.
 * @param {{time_ms: number, place: number}} a
 * @param {{time_ms: number, place: number}} b
 * @returns {number}
 */
export function inTime(a, b) {
  return a.time_ms - b.time_ms || a.place - b.place;
}
