/** @import { Dial, LeftAt, Limits, Margin, PolicyAsks, Remark, Tested } from "./types.js" */
import { shownOn } from "./dial.js";
import { decimal, isLess, least, most, number } from "./exact.js";
import { areLike } from "./pulse_widths.js";
import { remark } from "./remarks.js";

/**
 * Say why the margin is unknown although a test was made.
 * @param {string} stale
 * @param {Limits} limits
 * @returns {Remark[]}
 */
export function retest(stale, limits) {
  if (!stale) return [];
  if (stale !== "old") return [remark(`retest_${stale}`, "look_again")];
  return [remark("retest_old", "look_again", { hours: limits.threshold_stale_h }, ["threshold_stale_h"])];
}

/**
 * Say that two or more thresholds stand, of which the higher counts.
 * @param {Tested[]} standing
 * @param {Tested | null} best
 * @param {Dial} dial
 * @returns {Remark[]}
 */
export function severalTests(standing, best, dial) {
  if (!best || best.result.threshold === null) return [];
  const same = standing.filter(({ told }) => told.unit === best.told.unit && areLike(told.width_ms, best.told.width_ms));
  const values = same.map(({ result }) => number(result.threshold)).filter((value) => value !== null);
  if (values.length < 2) return [];
  const told = {
    count: String(values.length),
    low: shownOn(dial, decimal(least(values))),
    high: shownOn(dial, best.result.threshold),
    unit: best.told.unit,
  };
  return [remark("several_tests", "fits", told)];
}

/**
 * Say why volts read back are not held against volts of another pulse width.
 * @param {Margin["why"]} why
 * @param {LeftAt | null} leftAt
 * @param {Tested | null} best
 * @param {Tested[]} allTests that stand, in the unit of the one that counts
 * @returns {Remark[]}
 */
export function notComparable(why, leftAt, best, allTests) {
  if (!why || !leftAt || !best) return [];
  if (why === "other_width") {
    const told = { tested: best.told.width_ms ?? "", left_at: leftAt.width_ms ?? "" };
    return [remark("margin_other_width", "look_again", told)];
  }
  const widths = allTests.map(({ told }) => number(told.width_ms)).filter((one) => one !== null);
  return [remark("margin_width_not_told", "look_again", { low: decimal(least(widths)), high: decimal(most(widths)) })];
}

/**
 * Say that final settings hold their margin, yet lie below the lowest output.
 * @param {LeftAt | null} leftAt
 * @param {PolicyAsks} asks
 * @param {Margin} held
 * @param {Dial} dial
 * @returns {Remark[]}
 */
export function belowMinimum(leftAt, asks, held, dial) {
  const [output, asked] = [number(leftAt?.output), number(asks.output)];
  if (!leftAt?.is_final || held.verdict !== "holds" || !asks.is_minimum) return [];
  if (!output || !asked || !isLess(output, asked)) return [];
  const told = { output: shownOn(dial, decimal(output)), asked: shownOn(dial, decimal(asked)), unit: asks.unit };
  return [remark("left_below_minimum", "look_again", told, ["output_minimum_ma"])];
}
