/** @import { Dial, Exact, Limits, Reading, Result, TestContext, TestFacts, ThresholdTest } from "./types.js" */
import { countsAs } from "./counted.js";
import { above } from "./dial.js";
import { compare, decimal, isLess, least, most, number } from "./exact.js";
import { heavierFirst } from "./remarks.js";
import { doubts, mistaken, results } from "./threshold_remarks.js";

const TIERS = [
  ["threshold_good_ma", "good"],
  ["threshold_acceptable_ma", "acceptable"],
  ["threshold_marginal_ma", "marginal"],
];

/**
 * Return threshold, bracket, method and remarks of one test.
 *
 * 2.0 captures, 1.0 captures, 0.8 no capture, 10 captures gives 1.0, bracket 0.8 to 1.0; a
 * jump back to a high output neither raises nor lowers the value.
 * @param {Reading[]} readings in the order read
 * @param {Dial} dial
 * @param {Limits} limits
 * @param {TestContext} [context]
 * @returns {ThresholdTest}
 */
export function thresholdTest(readings, dial, limits, context = {}) {
  const { is_dependent = false, is_ordered = true, unit = "mA" } = context;
  const counted = readings.map((reading) => countsAs(reading, limits));
  const marks = marksOf(readings.map(({ output }, n) => [number(output), counted[n].counts_as]));
  const test = { ...found(marks), dial, unit, marks };
  const open = doubts(test, limits);
  const tier = unit === "mA" ? tierOf(test.threshold, limits) : null;
  const clean = test.captures && open.length === 0;
  return {
    threshold: text(test.threshold),
    bracket: test.low && test.threshold ? { low: decimal(test.low), high: decimal(test.threshold) } : null,
    method: method(marks, test.threshold, dial, is_ordered),
    at_most: text(test.at_most),
    none_up_to: text(test.none_up_to),
    tier,
    clean,
    may_repeat: open.length > 0 && !is_dependent,
    counted,
    remarks: heavierFirst([
      ...mistaken(readings, counted, test, limits),
      ...open,
      ...results(test, tier, test.none_up_to, clean),
    ]),
  };
}

/**
 * @param {[Exact | null, Result][]} told
 * @returns {[Exact, Result][]}
 */
function marksOf(told) {
  return told.flatMap(([output, result]) => (output ? [/** @type {[Exact, Result]} */ ([output, result])] : []));
}

/**
 * @param {[Exact, Result][]} marks
 * @returns {Pick<TestFacts, "low" | "threshold" | "at_most"> & {none_up_to: Exact | null, captures: boolean}}
 */
function found(marks) {
  const captured = marks.filter(([, result]) => result === "captures").map(([x]) => x);
  const lost = marks.filter(([, result]) => result === "no_capture").map(([x]) => x);
  const highest = lost.length > 0 ? most(lost) : null;
  const holding = highest ? captured.filter((x) => isLess(highest, x)) : [];
  const threshold = holding.length > 0 ? least(holding) : null;
  return {
    captures: captured.length > 0,
    threshold,
    low: threshold ? highest : null,
    at_most: captured.length > 0 && !highest ? least(captured) : null,
    none_up_to: captured.length === 0 ? highest : null,
  };
}

/**
 * @param {Exact | null} value
 * @returns {string | null}
 */
function text(value) {
  return value ? decimal(value) : null;
}

/**
 * @param {[Exact, Result][]} marks
 * @param {Exact | null} threshold
 * @param {Dial} dial
 * @param {boolean} isOrdered
 * @returns {string}
 */
function method(marks, threshold, dial, isOrdered) {
  const told = new Set(marks.map(([, result]) => result));
  if (!told.has("no_capture")) return told.has("captures") ? "loss_not_sought" : "";
  if (!told.has("captures")) return "no_capture";
  if (!threshold) return "contradictory";
  if (!isOrdered) return "unordered";
  return roseTo(threshold, marks, dial) ? "up" : "down";
}

/**
 * Tell whether single dial steps led from the last loss to the threshold.
 * @param {Exact} threshold
 * @param {[Exact, Result][]} marks
 * @param {Dial} dial
 * @returns {boolean}
 */
function roseTo(threshold, marks, dial) {
  const last = marks.findLastIndex(([, result]) => result === "no_capture");
  let [here] = marks[last];
  for (const [output, result] of marks.slice(last + 1)) {
    const next = above(dial, here);
    if (!next || compare(output, next) !== 0) return false;
    if (result === "captures") return compare(output, threshold) === 0;
    here = output;
  }
  return false;
}

/**
 * @param {Exact | null} threshold
 * @param {Limits} limits
 * @returns {string | null}
 */
function tierOf(threshold, limits) {
  if (!threshold) return null;
  for (const [key, tier] of TIERS) {
    const bound = number(limits[key]);
    if (!bound) return null;
    if (compare(threshold, bound) <= 0) return tier;
  }
  return "high";
}
