/** @import { Dial, Exact, Limits, Margin, Setting } from "./types.js" */
import { above, shownOn } from "./dial.js";
import { compare, decimal, isLess, number, product, quotient } from "./exact.js";
import { minimum, multiple, policyAsks } from "./output.js";
import { remark } from "./remarks.js";
import { times } from "./shown.js";

/** @returns {Margin} a margin nobody can know: no number, no ruler */
export const unknown = () => ({
  shown: "unknown",
  verdict: "unknown",
  at_least: false,
  below_target: false,
  remarks: [],
  why: "",
});

/**
 * Return the margin and its verdict; shown truncated, judged exactly. 1.96 over 1.0 is
 * "1.9 ×", below a floor of 2.0. Below the floor weighs Look now when dependent or at
 * handover. Needlessly high only for final settings.
 * @param {Setting} setting
 * @param {string | null} threshold in the setting's unit
 * @param {string | null} atMost upper bound, where loss was not sought
 * @param {Dial} dial
 * @param {Limits} limits
 * @param {boolean} isDependent
 * @returns {Margin}
 */
export function margin(setting, threshold, atMost, dial, limits, isDependent) {
  const output = number(setting.output);
  const base = threshold === null ? number(atMost) : number(threshold);
  const floor = number(limits.threshold_margin_floor);
  if (!output || !base || !floor || base.n <= 0n || output.n <= 0n) return unknown();
  const held = quotient(output, base);
  const isBound = threshold === null;
  const told = words(setting, output, base, dial, limits);
  if (isLess(held, floor)) {
    if (isBound) return notShown(held, told);
    const asked = policyAsks(threshold, dial, limits, isDependent, { unit: setting.unit }).output;
    return below(setting, held, asked === null ? told : { ...told, asked: shownOn(dial, asked) }, isDependent);
  }
  if (isNeedlesslyHigh(setting, output, base, dial, limits)) {
    const keys = ["margin_high_multiple", "output_minimum_ma"].filter((key) => key in limits);
    const high = remark("needlessly_high", "look_again", told, keys);
    return { shown: times(held), verdict: "needlessly_high", at_least: isBound, below_target: false, remarks: [high], why: "" };
  }
  return holds(held, told, limits, isBound, isDependent);
}

/**
 * @param {Setting} setting
 * @param {Exact} output
 * @param {Exact} base
 * @param {Dial} dial
 * @param {Limits} limits
 * @returns {{[name: string]: string}}
 */
function words(setting, output, base, dial, limits) {
  return {
    margin: times(quotient(output, base)),
    output: shownOn(dial, decimal(output)),
    threshold: shownOn(dial, decimal(base)),
    floor: `${limits.threshold_margin_floor} ×`,
    unit: setting.unit ?? "mA",
  };
}

/**
 * @param {Exact} held
 * @param {{[name: string]: string}} told
 * @returns {Margin}
 */
function notShown(held, told) {
  const one = remark("margin_not_shown", "look_again", told, ["threshold_margin_floor"]);
  return { shown: times(held), verdict: "not_shown", at_least: true, below_target: false, remarks: [one], why: "" };
}

/**
 * @param {Setting} setting
 * @param {Exact} held
 * @param {{[name: string]: string}} told
 * @param {boolean} isDependent
 * @returns {Margin}
 */
function below(setting, held, told, isDependent) {
  const weight = isDependent || setting.at_handover ? "look_now" : "look_again";
  const one = remark("below_floor", weight, told, ["threshold_margin_floor"], "asked" in told ? "output" : "");
  return { shown: times(held), verdict: "below_floor", at_least: false, below_target: false, remarks: [one], why: "" };
}

/**
 * @param {Exact} held
 * @param {{[name: string]: string}} told
 * @param {Limits} limits
 * @param {boolean} isBound
 * @param {boolean} isDependent
 * @returns {Margin}
 */
function holds(held, told, limits, isBound, isDependent) {
  const target = multiple(limits, isDependent);
  const short = target !== null && isLess(held, target) && !isBound;
  const values = target ? { ...told, target: `${decimal(target)} ×` } : told;
  const keys = ["threshold_margin_floor"];
  if (short) keys.push(isDependent ? "margin_if_dependent" : "threshold_margin_target");
  const bare = isBound ? "margin_at_least" : "margin_holds";
  const one = remark(short ? "margin_holds_below_target" : bare, "fits", values, keys);
  return { shown: times(held), verdict: "holds", at_least: isBound, below_target: short, remarks: [one], why: "" };
}

/**
 * @param {Setting} setting
 * @param {Exact} output
 * @param {Exact} base
 * @param {Dial} dial
 * @param {Limits} limits
 * @returns {boolean}
 */
function isNeedlesslyHigh(setting, output, base, dial, limits) {
  const many = number(limits.margin_high_multiple);
  if (!many || !setting.is_final || compare(output, product(many, base)) <= 0) return false;
  const fewest = minimum(limits, setting.unit ?? "mA");
  // Volts, children: no minimum is known here, so nothing is called needless.
  if (!fewest) return false;
  const oneUp = above(dial, fewest);
  return oneUp !== null && isLess(oneUp, output);
}
