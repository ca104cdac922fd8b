/** The single tests of the condition language, on the answers a path holds. */

import { canonical, compare, exact } from "./decimals.js";
import { local } from "./instants.js";
import { converted } from "./units.js";
import { isObject } from "./verdicts.js";

/** @typedef {import("../types.js").Json} Json */
/** @typedef {import("../types.js").JsonObject} JsonObject */

/**
 * Return the one answer that is no absence, or null.
 * @param {Json[]} values
 * @returns {Json}
 */
function current(values) {
  const [value = null] = values;
  return values.length !== 1 || (isObject(value) && Object.hasOwn(value, "absent")) ? null : value;
}

/**
 * Tell whether there is one answer that is no absence.
 * @param {Json[]} values
 * @returns {boolean}
 */
export function isCurrent(values) {
  return current(values) !== null;
}

/**
 * Tell whether the one answer is `wanted`, holds it, or equals it as a number.
 * @param {Json[]} values
 * @param {string} wanted
 * @param {string} unit the field's first unit; "": not known
 * @returns {boolean}
 */
export function isSame(values, wanted, unit) {
  return matches(current(values), wanted, unit);
}

/**
 * @param {Json} value
 * @param {string} wanted
 * @param {string} unit
 * @returns {boolean}
 */
function matches(value, wanted, unit) {
  if (Array.isArray(value)) return value.some((item) => matches(item, wanted, unit));
  if (!isObject(value)) return value === wanted;
  if (Object.hasOwn(value, "unit")) {
    if (typeof value.n !== "string" || Object.hasOwn(value, "cmp") || canonical(wanted) !== wanted) return false;
    const number = inUnit(value.n, value, unit);
    return number !== null && compare(number, exact(wanted)) === 0;
  }
  if (Object.hasOwn(value, "as") || Object.hasOwn(value, "day")) return wanted === value.date || wanted === value.day;
  const [code, ...more] = Object.keys(value);
  return code === wanted && more.length === 0;
}

/**
 * Tell whether the one answer is surely less than `limit`; null: `limit` is no number.
 * @param {Json[]} values
 * @param {string} limit
 * @param {string} unit the field's first unit; "": not known
 * @returns {boolean | null}
 */
export function isLess(values, limit, unit) {
  if (canonical(limit) !== limit) return null;
  const value = current(values);
  if (!isObject(value) || !Object.hasOwn(value, "unit")) return false;
  const figure = value.high ?? value.n;
  if (typeof figure !== "string" || value.cmp === ">" || value.cmp === ">=") return false;
  const number = inUnit(figure, value, unit);
  return number !== null && compare(number, exact(limit)) <= (value.cmp === "<" ? 0 : -1);
}

/**
 * @param {string} figure
 * @param {JsonObject} value
 * @param {string} unit
 * @returns {import("../types-form.js").Fraction | null}
 */
function inUnit(figure, value, unit) {
  const said = String(value.unit);
  return said && unit ? converted(figure, said, unit) : exact(figure);
}

/**
 * Tell whether the one moment or date is surely earlier than the other.
 * @param {Json[]} values
 * @param {Json[]} others
 * @returns {boolean}
 */
export function isBefore(values, others) {
  const one = current(values);
  const other = current(others);
  if (!isObject(one) || !isObject(other)) return false;
  if (typeof one.utc === "string" && typeof other.utc === "string") return one.utc < other.utc;
  const days = [dayOf(one), dayOf(other)];
  return typeof days[0] === "string" && typeof days[1] === "string" && days[0] < days[1];
}

/**
 * @param {JsonObject} value
 * @returns {Json}
 */
function dayOf(value) {
  if (typeof value.utc === "string") return local(value).day;
  return value.day ?? value.date ?? null;
}
