/** @import { Counted, Exact, Limits, Reading, Remark, Result, TestFacts, Weight } from "./types.js" */
import { above, shownOn } from "./dial.js";
import { compare, decimal, isLess, least, minus, most, number, ratio } from "./exact.js";
import { remark } from "./remarks.js";

/** @type {{[tier: string]: [Weight, string, string]}} weight, limit that decided, what policy asks */
const TIERS = {
  good: ["fits", "threshold_good_ma", ""],
  acceptable: ["fits", "threshold_acceptable_ma", ""],
  marginal: ["look_again", "threshold_acceptable_ma", ""],
  high: ["look_again", "threshold_marginal_ma", "reposition"],
};

/**
 * Return what about the test itself asks for a second look: a loss at or above a capture;
 * a bracket wider than one dial step and wider than `bracket_wide_ma`; can't tell inside
 * the bracket or above the threshold. The value is still shown.
 * @param {TestFacts} test
 * @param {Limits} limits
 * @returns {Remark[]}
 */
export function doubts(test, limits) {
  return [...notMonotone(test), ...wide(test, limits), ...unclear(test)];
}

/**
 * Return why readings count as can't tell although they said more, or may.
 * @param {Reading[]} readings
 * @param {Counted[]} counted
 * @param {TestFacts} test
 * @param {Limits} limits
 * @returns {Remark[]}
 */
export function mistaken(readings, counted, test, limits) {
  const found = [];
  if (counted.some(({ why }) => why === "pads_pacing")) found.push(remark("pads_pacing", "look_now"));
  const close = counted.findIndex(({ why }) => why === "rate_too_close");
  if (close >= 0) {
    const key = "rate_above_own_per_min";
    const { rate, own_rate } = readings[close];
    const told = { rate: rate ?? "", own: own_rate ?? "", above: limits[key] };
    found.push(remark("rate_too_close", "look_again", told, [key], "pace_above_own"));
  }
  found.push(...rateUnsaid(readings, limits));
  if (counted.some(({ why }) => why === "no_output")) {
    found.push(remark("no_output", "look_again", words(test, { output: ratio(0n, 1n) })));
  }
  return found;
}

/**
 * Return the question for the pacing rate beside an own rhythm of a known rate. Its readings
 * count as told: a rate that nobody said changes nothing.
 * @param {Reading[]} readings
 * @param {Limits} limits
 * @returns {Remark[]}
 */
function rateUnsaid(readings, limits) {
  const key = "rate_above_own_per_min";
  const asked = readings.find(({ rate, own_rate, result }) => result !== "cannot_tell" && (rate ?? null) === null && (own_rate ?? null) !== null);
  if (!asked || limits[key] === undefined) return [];
  return [remark("rate_unsaid", "look_again", { own: asked.own_rate ?? "", above: limits[key] }, [key], "pace_above_own")];
}

/**
 * Return what the test found: its tier, that it is clean, or no capture.
 * @param {TestFacts} test
 * @param {string | null} tier
 * @param {Exact | null} noneUpTo
 * @param {boolean} clean
 * @returns {Remark[]}
 */
export function results(test, tier, noneUpTo, clean) {
  const { low, threshold } = test;
  if (noneUpTo) return [remark("no_capture_up_to", "look_again", words(test, { output: noneUpTo }), [], "reposition")];
  if (!low || !threshold) return [];
  const told = words(test, { low, high: threshold, threshold });
  const found = clean ? [remark("clean_test", "fits", told)] : [];
  if (tier) {
    const [weight, key, asked] = TIERS[tier];
    found.push(remark(`tier_${tier}`, weight, told, [key], asked));
  }
  return found;
}

/**
 * @param {TestFacts} test
 * @returns {Remark[]}
 */
function notMonotone(test) {
  const [captured, lost] = [outputs(test, "captures"), outputs(test, "no_capture")];
  if (captured.length === 0 || lost.length === 0 || isLess(most(lost), least(captured))) return [];
  const told = words(test, { lost: most(lost), captured: least(captured) });
  return [remark(test.threshold ? "not_monotone" : "contradictory", "look_again", told)];
}

/**
 * @param {TestFacts} test
 * @param {Limits} limits
 * @returns {Remark[]}
 */
function wide({ low, threshold, unit, dial, ...rest }, limits) {
  const widest = number(limits.bracket_wide_ma);
  const next = low && above(dial, low);
  if (!low || !threshold || !widest || !next || unit !== "mA") return [];
  if (compare(threshold, next) <= 0 || compare(minus(threshold, low), widest) <= 0) return [];
  const told = words({ ...rest, low, threshold, unit, dial }, { low, high: threshold });
  return [remark("bracket_wide", "look_again", told, ["bracket_wide_ma"])];
}

/**
 * @param {TestFacts} test
 * @returns {Remark[]}
 */
function unclear(test) {
  const top = test.threshold ?? test.at_most;
  if (!top) return [];
  const bottom = test.low ?? top;
  const told = outputs(test, "cannot_tell");
  const inside = told.filter((x) => isLess(bottom, x) && isLess(x, top));
  const higher = told.filter((x) => isLess(top, x));
  const found = [];
  if (inside.length > 0) {
    found.push(remark("unclear_inside", "look_again", words(test, { output: most(inside), low: bottom, high: top })));
  }
  if (higher.length > 0) {
    found.push(remark("unclear_above", "look_again", words(test, { output: least(higher), threshold: top })));
  }
  return found;
}

/**
 * @param {TestFacts} test
 * @param {Result} result
 * @returns {Exact[]}
 */
function outputs(test, result) {
  return test.marks.filter(([, counted]) => counted === result).map(([x]) => x);
}

/**
 * Return outputs as shown on this dial, with the unit.
 * @param {TestFacts} test
 * @param {{[name: string]: Exact}} values
 * @returns {{[name: string]: string}}
 */
function words(test, values) {
  const told = Object.entries(values).map(([name, x]) => [name, shownOn(test.dial, decimal(x))]);
  return { ...Object.fromEntries(told), unit: test.unit };
}
