/** @import { Dial, Limits, Remark, SensitivityAsks } from "./types.js" */
import { atOrBelow, lowest, shownOn } from "./dial.js";
import { compare, decimal, isLess, most, number, product } from "./exact.js";
import { heavierFirst, remark } from "./remarks.js";

/**
 * Return the highest mV number that sensed, with none lower that did not; null when nothing
 * sensed so.
 * @param {[string, string][]} readings mV, and sensed, not_sensed or cannot_tell
 * @returns {string | null}
 */
export function sensingThreshold(readings) {
  const told = readings.flatMap(([mv, result]) => {
    const value = number(mv);
    return value ? [{ value, result }] : [];
  });
  const missed = told.filter(({ result }) => result === "not_sensed");
  const able = told.filter(({ value, result }) => result === "sensed" && missed.every((one) => isLess(value, one.value)));
  return able.length > 0 ? decimal(most(able.map(({ value }) => value))) : null;
}

/**
 * Return `sensitivity_fraction` of what was measured, down to the dial; always below what was
 * measured, else own beats are missed. Lower is more sensitive.
 * @param {string | null} measured mV
 * @param {Dial} dial
 * @param {Limits} limits
 * @returns {SensitivityAsks}
 */
export function sensitivityAsks(measured, dial, limits) {
  const [exact, part] = [number(measured), number(limits.sensitivity_fraction)];
  const asks = (/** @type {string | null} */ sensitivity, words = "") => ({ sensitivity, words, dial_known: dial.known });
  if (!exact || !part || exact.n <= 0n) return asks(null, "not_measured");
  if (compare(lowest(dial), exact) >= 0) return asks(null, "cannot_go_low_enough");
  const below = atOrBelow(dial, product(exact, part));
  return below ? asks(decimal(below)) : asks(decimal(lowest(dial)), "above_fraction");
}

/**
 * Return what a sensing test and the sensitivity read back say together.
 * @param {string | null} measured mV
 * @param {string | null} leftAt mV read back; null when not, or asynchronous
 * @param {Dial} dial
 * @param {Limits} limits
 * @param {boolean} isDependent
 * @returns {Remark[]}
 */
export function sensingRemarks(measured, leftAt, dial, limits, isDependent) {
  const [exact, left] = [number(measured), number(leftAt)];
  const [low, noise] = [number(limits.r_wave_low_mv), number(limits.sensitivity_noise_mv)];
  const told = { measured: shownOn(dial, measured ?? ""), left_at: shownOn(dial, leftAt ?? "") };
  const found = [];
  if (exact && left && !isLess(left, exact)) found.push(remark("will_not_sense", "look_now", told));
  if (exact && low && isLess(exact, low)) found.push(remark("r_wave_low", "look_again", told, ["r_wave_low_mv"]));
  if (left && noise && isLess(left, noise) && isDependent) {
    found.push(remark("noise_may_stop_pacing", "look_again", told, ["sensitivity_noise_mv"]));
  }
  return heavierFirst(found);
}
