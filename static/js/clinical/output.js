/** @import { Dial, Exact, Limits, PolicyAsks } from "./types.js" */
import { atOrAbove, highest } from "./dial.js";
import { decimal, isLess, most, number, product, quotient } from "./exact.js";
import { times } from "./shown.js";

/**
 * Return the multiple policy asks for; the larger one when dependent.
 * @param {Limits} limits
 * @param {boolean} isDependent
 * @returns {Exact | null}
 */
export function multiple(limits, isDependent) {
  const target = number(limits.threshold_margin_target);
  if (!isDependent) return target;
  const higher = number(limits.margin_if_dependent);
  return target && higher ? most([target, higher]) : (target ?? higher);
}

/**
 * Return min(max(multiple × threshold, minimum), highest), up to the dial. Computed, never
 * written as a setting. No minimum is known in volts, nor in children.
 * @param {string | null} threshold null where there is none, or only an upper bound:
 *   no output is ever computed from a bound
 * @param {Dial} dial
 * @param {Limits} limits
 * @param {boolean} isDependent
 * @param {{unit?: string, why_none?: string}} [context] why_none: why there is no threshold
 * @returns {PolicyAsks}
 */
export function policyAsks(threshold, dial, limits, isDependent, context = {}) {
  const { unit = "mA", why_none = "no_threshold" } = context;
  const exact = number(threshold);
  const factor = multiple(limits, isDependent);
  if (!exact || exact.n <= 0n) return none(unit, why_none);
  if (!factor) return none(unit, "no_multiple");
  const wanted = product(factor, exact);
  const fewest = minimum(limits, unit);
  const asked = fewest ? most([wanted, fewest]) : wanted;
  const top = highest(dial);
  const isCapped = isLess(top, asked);
  const output = isCapped ? top : (atOrAbove(dial, asked) ?? top);
  return {
    output: decimal(output),
    unit,
    multiple: decimal(factor),
    is_minimum: fewest !== null && isLess(wanted, fewest),
    capped: isCapped ? times(quotient(output, exact)) : "",
    dial_known: dial.known,
    why_none: "",
  };
}

/**
 * Return the lowest output asked for whatever the threshold; mA only.
 * @param {Limits} limits
 * @param {string} unit
 * @returns {Exact | null}
 */
export function minimum(limits, unit) {
  return unit === "mA" ? number(limits.output_minimum_ma) : null;
}

/**
 * @param {string} unit
 * @param {string} why_none
 * @returns {PolicyAsks}
 */
function none(unit, why_none) {
  return { output: null, unit, multiple: null, is_minimum: false, capped: "", dial_known: true, why_none };
}
