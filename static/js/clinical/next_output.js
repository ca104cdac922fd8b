/** @import { Dial, Exact, Limits, NextOutput, Reading, Result } from "./types.js" */
import { countsAs } from "./counted.js";
import { atOrAbove, atOrBelow, below, highest, lowest } from "./dial.js";
import { compare, decimal, isLess, minus, most, number, product, quotient, ratioOf } from "./exact.js";

/**
 * Return the output to offer next. Down: two thirds while above 2 mA, then by 0.2. After
 * can't tell: the same output again. After any loss: the last captured output, else the
 * one already set, else the dial's highest; always above every loss. A dependent patient
 * is never offered less than the output set divided by `margin_shown_factor`.
 * @param {Reading[]} readings in the order read
 * @param {string | null} setOutput output at the start, read from the dial
 * @param {Dial} dial
 * @param {Limits} limits
 * @param {boolean} isDependent
 * @returns {NextOutput}
 */
export function nextOutput(readings, setOutput, dial, limits, isDependent) {
  /** @type {[Exact, Result][]} */
  const counted = readings.flatMap((reading) => {
    const output = number(reading.output);
    return output ? [/** @type {[Exact, Result]} */ ([output, countsAs(reading, limits).counts_as])] : [];
  });
  const set = number(setOutput);
  const floor = isDependent ? floorOf(set, dial, limits) : null;
  if (counted.some(([, result]) => result === "no_capture")) return up(counted, set, dial, floor);
  if (isDependent && !floor) return offer(null, "set_not_known");
  return down(counted.at(-1) ?? null, set, dial, limits, floor);
}

/**
 * @param {Exact | null} output
 * @param {string} [ends]
 * @param {boolean} [isHighest]
 * @returns {NextOutput}
 */
function offer(output, ends = "", isHighest = false) {
  return { output: output ? decimal(output) : null, ends, is_highest: isHighest };
}

/**
 * Return the lowest output offered to a dependent patient, or null: not known.
 * @param {Exact | null} set
 * @param {Dial} dial
 * @param {Limits} limits
 * @returns {Exact | null}
 */
function floorOf(set, dial, limits) {
  const factor = number(limits.margin_shown_factor);
  return set && factor ? (atOrAbove(dial, quotient(set, factor)) ?? highest(dial)) : null;
}

/**
 * @param {[Exact, Result][]} counted
 * @param {Exact | null} set
 * @param {Dial} dial
 * @param {Exact | null} floor
 * @returns {NextOutput}
 */
function up(counted, set, dial, floor) {
  const captured = counted.filter(([, result]) => result === "captures").map(([x]) => x);
  const lost = most(counted.filter(([, result]) => result === "no_capture").map(([x]) => x));
  const lastLoss = counted.findLastIndex(([, result]) => result === "no_capture");
  const since = counted.slice(lastLoss + 1).filter(([, result]) => result === "captures");
  if (since.some(([x]) => isLess(lost, x))) return offer(null, "threshold_found");
  const ways = [...captured.slice(-1), ...captured.toSorted(compare), ...(set ? [set] : []), highest(dial)];
  const way = ways.find((x) => isLess(lost, x));
  if (!way) return offer(null, "dial_highest");
  const high = floor ? most([way, floor]) : way;
  return offer(high, "", compare(high, highest(dial)) === 0);
}

/**
 * @param {[Exact, Result] | null} last
 * @param {Exact | null} set
 * @param {Dial} dial
 * @param {Limits} limits
 * @param {Exact | null} floor
 * @returns {NextOutput}
 */
function down(last, set, dial, limits, floor) {
  if (last && last[1] === "cannot_tell") return offer(most([last[0], floor ?? lowest(dial)]));
  const here = last ? last[0] : set;
  if (!here) return offer(null, "set_not_known");
  if (floor && compare(here, floor) <= 0) return last ? offer(null, "margin_shown") : offer(floor);
  const next = oneDown(dial, here, limits);
  if (!next) return last ? offer(null, "dial_lowest") : offer(lowest(dial));
  return offer(floor ? most([next, floor]) : next);
}

/**
 * Return the next output below, or null at the dial's lowest.
 * @param {Dial} dial
 * @param {Exact} here
 * @param {Limits} limits
 * @returns {Exact | null}
 */
function oneDown(dial, here, limits) {
  const next = below(dial, here);
  const [coarseAbove, ratio] = [number(limits.test_coarse_above_ma), ratioOf(limits.test_coarse_ratio)];
  if (coarseAbove && ratio && isLess(coarseAbove, here)) {
    const coarse = atOrAbove(dial, product(here, ratio));
    return coarse && isLess(coarse, here) ? coarse : next;
  }
  const fine = number(limits.test_fine_step_ma);
  return fine ? (atOrBelow(dial, minus(here, fine)) ?? next) : next;
}
