/** @import { Drift, Measured } from "./types-after.js" */
/** @import { Exact, Limits } from "./types.js" */
import { compare, isLess, minus, most, number, plus, product, quotient, ratio } from "./exact.js";
import { times } from "./shown.js";

/** clinical 23: a slope needs three values. */
const LEAST = 3;
/** clinical 23: the middle pair of an even count. */
const TWO = ratio(2n, 1n);

/**
 * Return what a run of thresholds says, one thing only: first a margin below the floor now, then
 * one projected below it by the next test (median of pairwise slopes), then a rise over the first.
 * @param {Measured[]} values of the same wire and position, in time, mA; 0 is none
 * @param {string | null} output dial left at, mA
 * @param {boolean} isBelowFloor
 * @param {number | null} dueMs when the next test is due
 * @param {Limits} limits
 * @returns {Drift}
 */
export function drift(values, output, isBelowFloor, dueMs, limits) {
  if (isBelowFloor) return { step: "below_floor", shown: "" };
  const told = values.flatMap(({ ms, value }) => {
    const exact = number(value);
    return exact && exact.n > 0n ? [{ ms, value: exact }] : [];
  });
  const then = projected(told, dueMs);
  const [left, floor] = [number(output), number(limits.threshold_margin_floor)];
  if (then && left && floor && isLess(quotient(left, then), floor)) {
    return { step: "projected", shown: times(quotient(left, then)) };
  }
  return { step: hasRisen(told, limits) ? "risen" : "", shown: "" };
}

/**
 * Return the median of the slopes of all pairs, per millisecond; two of one time make none.
 * Fewer than three values: null.
 * @param {{ms: number, value: Exact}[]} told in time
 * @returns {Exact | null}
 */
export function medianSlope(told) {
  if (told.length < LEAST) return null;
  const slopes = told
    .flatMap((one, n) => told.slice(n + 1).map((later) => ({ one, later })))
    .filter(({ one, later }) => later.ms !== one.ms)
    .map(({ one, later }) => quotient(minus(later.value, one.value), ratio(BigInt(later.ms - one.ms), 1n)))
    .sort(compare);
  const middle = slopes.slice((slopes.length - 1) >> 1, (slopes.length >> 1) + 1);
  if (middle.length === 0) return null;
  return middle.length === 1 ? middle[0] : quotient(plus(middle[0], middle[1]), TWO);
}

/** @param {{ms: number, value: Exact}[]} told @param {number | null} dueMs */
function projected(told, dueMs) {
  const slope = medianSlope(told);
  const last = told.at(-1);
  if (!slope || slope.n <= 0n || dueMs === null || !last || dueMs <= last.ms) return null;
  return plus(last.value, product(slope, ratio(BigInt(dueMs - last.ms), 1n)));
}

/** @param {{ms: number, value: Exact}[]} told @param {Limits} limits */
function hasRisen(told, limits) {
  const [factor, least] = [number(limits.drift_factor), number(limits.drift_minimum_ma)];
  const [first, last] = [told.at(0), told.at(-1)];
  if (!first || !last || !factor || !least) return false;
  return !isLess(last.value, most([product(factor, first.value), plus(first.value, least)]));
}
