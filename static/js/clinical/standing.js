/** @import { Change, Dial, Limits, Tested, ToldTest } from "./types.js" */
import { offeredTests } from "./dependence.js";
import { compare, number, ratio } from "./exact.js";
import { nextOutput } from "./next_output.js";
import { areLike } from "./pulse_widths.js";
import { isOld, since } from "./retest.js";
import { thresholdTest } from "./threshold.js";

const ZERO = ratio(0n, 1n);

/**
 * Return what one test gives, by what stands around it.
 * @param {ToldTest} told
 * @param {Dial} dial
 * @param {Limits} limits
 * @param {boolean} isDependent
 * @param {Change[]} found
 * @returns {Tested}
 */
export function tested(told, dial, limits, isDependent, found) {
  const context = { is_dependent: isDependent, is_ordered: told.is_ordered, unit: told.unit };
  return {
    told,
    result: thresholdTest(told.readings, dial, limits, context),
    next: nextOutput(told.readings, told.set_output, dial, limits, isDependent),
    offered: offeredTests(isDependent, told.pads_ready, told.doctor_present),
    stands: since(told, found) === null,
  };
}

/**
 * Return the tests that stand, and what made the last one fall if none does. A test in
 * which nothing captured, or that contradicts itself, ends what was known before it while it is
 * the latest; afterwards the higher of all counts.
 * @param {Tested[]} allTests in time
 * @param {Change[]} found
 * @param {number | null} nowMs
 * @param {Limits} limits
 * @returns {{standing: Tested[], stale: string}}
 */
export function standingTests(allTests, found, nowMs, limits) {
  const read = allTests.filter(({ result }) => result.method !== "");
  const standing = read.filter(({ stands }) => stands);
  const young = standing.filter(({ told }) => !isOld(told.time_ms, nowMs, limits));
  if (young.length > 0) return { standing: counting(young), stale: "" };
  if (standing.length > 0) return { standing: [], stale: "old" };
  const last = read.at(-1);
  return { standing: [], stale: (last && since(last.told, found)?.code) ?? "" };
}

/**
 * Return the test that counts: the highest threshold of the latest unit. Where no test found
 * one, the highest upper bound; where the latest failed, it. Of equal values the latest. In volts
 * of one pulse width only: the dial's; where it is not told, or no test was made at it, that of
 * the latest test.
 * @param {Tested[]} standing in time
 * @param {string | null} [leftMs] of the dial
 * @returns {Tested | null}
 */
export function bestTest(standing, leftMs = null) {
  const last = standing.at(-1);
  if (!last) return null;
  const units = standing.filter(({ told }) => told.unit === last.told.unit);
  const atDial = leftMs === null ? [] : units.filter(({ told }) => areLike(told.width_ms, leftMs));
  const same = atDial.length > 0 ? atDial : units.filter(({ told }) => areLike(told.width_ms, last.told.width_ms));
  for (const name of /** @type {("threshold" | "at_most")[]} */ (["threshold", "at_most"])) {
    const value = (/** @type {Tested} */ one) => number(one.result[name]) ?? ZERO;
    const able = same.filter(({ result }) => result[name] !== null);
    if (able.length > 0) return able.reduce((best, one) => (compare(value(one), value(best)) >= 0 ? one : best));
  }
  return same[same.length - 1];
}

/**
 * Return the tests of which the higher counts, by the last that failed at each pulse width.
 * @param {Tested[]} young in time
 * @returns {Tested[]}
 */
function counting(young) {
  const failed = new Map(young.flatMap((one, n) => (hasFailed(one) ? [[one.told.width_ms, n]] : [])));
  return young.filter((one, n) => [...failed.values()].every((at) => at <= n || outlives(one, young.slice(at))));
}

/**
 * Tell whether a test counts after a later one that failed, the first of these.
 * @param {Tested} one
 * @param {Tested[]} sinceThen in time
 * @returns {boolean}
 */
function outlives({ told, result }, sinceThen) {
  const [failed, own] = [sinceThen[0].told.width_ms, told.width_ms];
  // A threshold at another pulse width lifts neither a failure nor what it ended.
  const lifts = (/** @type {string | null} */ width) => areLike(width, failed) || width === own;
  if (sinceThen.some((at) => at.result.threshold !== null && lifts(at.told.width_ms))) return true;
  // Only upper bounds since: an older threshold below them is no longer certain.
  const bounds = sinceThen.flatMap((at) => number(at.result.at_most) ?? []);
  const threshold = number(result.threshold);
  if (bounds.length === 0 || !threshold || bounds.some((top) => compare(threshold, top) < 0)) return false;
  // A bound at another pulse width says nothing of this one.
  return sinceThen.every((at) => at.result.threshold !== null || areLike(own, at.told.width_ms));
}

/**
 * @param {Tested} one
 * @returns {boolean}
 */
function hasFailed({ result }) {
  return result.threshold === null && result.at_most === null;
}
