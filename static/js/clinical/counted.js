/** @import { Counted, Exact, Limits, Reading } from "./types.js" */
import { isLess, number, plus } from "./exact.js";

/**
 * Return how a reading counts. Not as said, but as can't tell: while the pads pace; when
 * pacing is known to be less than `rate_above_own_per_min` above the own rhythm; a
 * capture at no output. A rate that nobody said changes nothing.
 * @param {Reading} reading
 * @param {Limits} limits
 * @returns {Counted}
 */
export function countsAs(reading, limits) {
  const why = reading.result === "cannot_tell" ? "" : whyNot(reading, limits);
  return { counts_as: why ? "cannot_tell" : reading.result, why };
}

/**
 * @param {Reading} reading
 * @param {Limits} limits
 * @returns {string}
 */
function whyNot(reading, limits) {
  if (reading.pads_pacing) return "pads_pacing";
  if (isTooClose(reading, number(limits.rate_above_own_per_min))) return "rate_too_close";
  const output = number(reading.output);
  return reading.result === "captures" && (!output || output.n <= 0n) ? "no_output" : "";
}

/**
 * @param {Reading} reading
 * @param {Exact | null} above
 * @returns {boolean}
 */
function isTooClose(reading, above) {
  const [rate, own] = [number(reading.rate), number(reading.own_rate)];
  return rate !== null && own !== null && above !== null && isLess(rate, plus(own, above));
}
