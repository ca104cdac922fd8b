/** @import { Dial, LeftAt, Limits, Margin, PolicyAsks, Remark, Tested } from "./types.js" */
import { shownOn } from "./dial.js";
import { decimal, isLess, least, number } from "./exact.js";
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
  const same = standing.filter(({ told }) => told.unit === best.told.unit);
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
