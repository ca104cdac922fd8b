/** @import { Fold } from "../types.js" */
import { decimal, number } from "./exact.js";
import { isObject, rowsOf } from "./rows.js";

const NO_NUMBER = ["absent", "low", "cmp", "special"];

/**
 * Return what the wire's latest generator tells of its pulse width, or undefined.
 * @param {Fold} fold
 * @param {string} wire
 * @returns {any} any: as kept, judged in widthOf
 */
export function usualWidth(fold, wire) {
  return rowsOf(fold, `wires/${wire}/capture.generator`).at(-1)?.value.pulse_width;
}

/**
 * Return the pulse width of a row in volts, ms, in its one written form, or null: its own,
 * else the generator's; a width said not to be known is none.
 * @param {{[child: string]: any}} told any: the row as kept
 * @param {any} usual any: the generator's, as kept
 * @param {string} unit
 * @returns {string | null}
 */
export function widthOf(told, usual, unit) {
  const value = "pulse_width" in told ? told.pulse_width : usual;
  if (unit !== "V" || !isObject(value) || value.unit !== "ms") return null;
  if (NO_NUMBER.some((name) => name in value)) return null;
  const exact = number(value.n);
  return exact && exact.n > 0n ? decimal(exact) : null;
}

/**
 * Tell whether two pulse widths may be one: only two known ones are unlike.
 * @param {string | null} oneMs
 * @param {string | null} otherMs
 * @returns {boolean}
 */
export function areLike(oneMs, otherMs) {
  return oneMs === null || otherMs === null || oneMs === otherMs;
}

/**
 * Return why the dial cannot be held against the test that counts, or "". Where the tests are
 * unlike and the dial's width is not told, nobody knows which of them it goes with.
 * @param {string | null} leftMs
 * @param {string | null} countedMs
 * @param {(string | null)[]} testedMs of all tests that stand
 * @returns {"" | "other_width" | "width_not_told"}
 */
export function whyUnlike(leftMs, countedMs, testedMs) {
  if (!areLike(leftMs, countedMs)) return "other_width";
  const isMixed = new Set(testedMs.filter((width) => width !== null)).size > 1;
  return leftMs === null && isMixed ? "width_not_told" : "";
}
