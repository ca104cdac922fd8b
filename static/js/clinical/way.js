/** @import { Fold } from "../types.js" */
/** @import { Look, When } from "./types-way.js" */
/** @import { Exact, StandingRow } from "./types.js" */
import { number } from "./exact.js";
import { readAt } from "./read_at.js";
import { isPacingAt, padsOf } from "./rhythm.js";
import { point, rowsOf } from "./rows.js";

/**
 * Which chamber a result tells; what is not here (unclear, no capture) tells none. "Above RV"
 * stands in for the atrial keys where there are no P waves.
 * @type {{[result: string]: string}}
 */
const CHAMBERS = {
  svc: "svc", ivc: "ivc", high_ra: "ra", mid_ra: "ra", low_ra: "ra", ra: "ra", p_captured: "ra", above_rv: "ra",
  rv_free: "rv", rv_contact: "rv", across_valve: "rv", rv_apex: "rv", rv_other: "rv", qrs_captured: "rv", outflow_pa: "outflow",
};

/**
 * Return which chamber a result tells, "" for none.
 * @param {string} result
 * @returns {string}
 */
export function chamberOf(result) {
  return Object.hasOwn(CHAMBERS, result) ? CHAMBERS[result] : "";
}

/**
 * Return a wire's depth readings in time. A pattern read while pads pace counts as unclear:
 * whose beat is it?
 * @param {Fold} fold
 * @param {string} wire
 * @returns {Look[]}
 */
export function looksOf(fold, wire) {
  const [passes, pads] = [passesOf(fold, wire), padsOf(fold)];
  const rows = rowsOf(fold, `wires/${wire}/advance.depth_reading`);
  return rows.map((row) => look(row, countBefore(passes, when(row)), isPacingAt(pads, row.time_ms)));
}

/**
 * Return where a new pass began, in time.
 * @param {Fold} fold
 * @param {string} wire
 * @returns {StandingRow[]}
 */
export function passesOf(fold, wire) {
  return rowsOf(fold, `wires/${wire}/advance.new_pass`);
}

/**
 * Return how many rows lie before a moment: of passes, which one it is of, from 0.
 * @param {StandingRow[]} rows
 * @param {When} at
 * @returns {number}
 */
export function countBefore(rows, at) {
  return rows.filter((one) => isBefore(when(one), at)).length;
}

/**
 * Return what rows are ordered by: their time, then their place in the record.
 * @param {StandingRow} row
 * @returns {When}
 */
export function when(row) {
  return [row.time_ms, row.place];
}

/** @param {When} a @param {When} b @returns {boolean} a before b */
export const isBefore = (a, b) => a[0] < b[0] || (a[0] === b[0] && a[1] < b[1]);

/**
 * Return a row's depth, cm, or null where it is no one possible number.
 * @param {StandingRow} row
 * @returns {Exact | null}
 */
export function depthOf(row) {
  return number(point(row.value.depth, "cm").n);
}

/**
 * Return a row's answer that is one code, else "".
 * @param {StandingRow} row
 * @param {string} name
 * @returns {string}
 */
export function textOf(row, name) {
  return typeof row.value[name] === "string" ? row.value[name] : "";
}

/**
 * Return these entry ids once each, in the record's order.
 * @param {Fold} fold
 * @param {string[]} ids
 * @returns {string[]}
 */
export function inOrder(fold, ids) {
  const wanted = new Set(ids);
  return fold.order.filter((one) => wanted.has(one));
}

/**
 * Return first and last place of each run of one mark; null is no mark.
 * @param {(string | null)[]} marks
 * @returns {[number, number][]}
 */
export function runs(marks) {
  /** @type {[number, number][]} */
  const found = [];
  marks.forEach((mark, n) => {
    if (mark === null) return;
    if (n && marks[n - 1] === mark) found[found.length - 1][1] = n;
    else found.push([n, n]);
  });
  return found;
}

/** @param {StandingRow} row @param {number} turn @param {boolean} padsPace @returns {Look} */
function look(row, turn, padsPace) {
  const result = padsPace ? "unclear" : textOf(row, "result");
  return { row, depth: depthOf(row), read_at: readAt(row.value), result, chamber: chamberOf(result), turn };
}
