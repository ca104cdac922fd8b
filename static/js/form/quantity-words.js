/** Numbers with their units, in words; no bare number. */

import { say } from "./say.js";
import { shownUnit } from "./units.js";

/** @typedef {import("../types.js").JsonObject} JsonObject */

const COMPARATORS = new Map([[">", ">"], ["<", "<"], [">=", "≥"], ["<=", "≤"]]);

/**
 * Return a quantity with its unit: "1.5 mA", "20 to 30 /min", "> 10 mg/dL".
 * @param {JsonObject} value
 * @returns {string}
 */
export function quantityWords(value) {
  const unit = String(value.unit);
  if (Object.hasOwn(value, "special")) return say(`words.${value.special}`);
  if (Object.hasOwn(value, "low")) {
    return withUnit(say("words.range", { low: numberWords(value.low), high: numberWords(value.high) }), unit);
  }
  if (!Object.hasOwn(value, "n")) return String(value.as);
  const cmp = COMPARATORS.get(String(value.cmp));
  return withUnit(cmp ? `${cmp} ${numberWords(value.n)}` : numberWords(value.n), unit);
}

/**
 * Return a canonical decimal with a real minus sign.
 * @param {unknown} number
 * @returns {string}
 */
export function numberWords(number) {
  return String(number).replace("-", "−");
}

/**
 * Return a number and its UCUM unit as shown: "37.5 °C", "−30°", "1.2".
 * @param {string} number
 * @param {string} unit
 * @returns {string}
 */
export function withUnit(number, unit) {
  const shown = shownUnit(unit);
  if (!shown) return number;
  return shown === "°" ? number + shown : `${number} ${shown}`;
}
