/** @import { Json, JsonObject } from "../types.js" */

/**
 * Tell whether two values say the same, however they were typed.
 * @param {Json} one
 * @param {Json} other
 * @returns {boolean}
 */
export function isSameAnswer(one, other) {
  return saidWhole(one) === saidWhole(other);
}

/**
 * Write what a whole value says. A list is a choice of several: picked in another order
 * it is the same. Lists inside a value keep their order.
 * @param {Json} value
 * @returns {string}
 */
export function saidWhole(value) {
  return Array.isArray(value) ? `[${value.map(said).sort().join()}]` : said(value);
}

/**
 * Write what a value says, leaving out how it was typed: equal texts are one answer.
 * @param {Json} value
 * @returns {string}
 */
export function said(value) {
  if (Array.isArray(value)) return `[${value.map(said).join()}]`;
  if (value === null || typeof value !== "object") return JSON.stringify(value);
  const keys = Object.keys(value).filter((key) => key !== "as" || isAllThereIs(value));
  return `{${keys.sort().map((key) => `${JSON.stringify(key)}:${said(value[key])}`).join()}}`;
}

/**
 * Tell whether the text as typed is the answer, because nothing was read from it.
 * @param {JsonObject} value
 * @returns {boolean}
 */
function isAllThereIs(value) {
  return value.certainty === "unreadable" || Object.keys(value).every((key) => key === "as" || key === "unit");
}
