/** Quantities: from typed text to a value, and the shape of such a value. */

import { canonical, compare, exact, isCanonical } from "./decimals.js";
import { asciiLower, isLong, isSaid, trim, western } from "./typed.js";
import { splitUnit } from "./units.js";
import { hasKeys, isObject } from "./verdicts.js";

/** @typedef {import("../types-form.js").FieldSpec} FieldSpec */
/** @typedef {import("../types.js").JsonObject} JsonObject */
/** @typedef {{[key: string]: string}} Figure */

/** @type {Map<string, string>} */
const WORDS = new Map([
  ["maximum", "maximum"], ["max", "maximum"], ["max.", "maximum"], ["low", "low"], ["low, no figure", "low"],
  ["high", "high"], ["high, no figure", "high"], ["minimal", "minimal"],
]);
const SPECIALS = new Set(WORDS.values());
/** @type {Map<string, string>} */
const COMPARATORS = new Map([["≥", ">="], ["≤", "<="], [">=", ">="], ["<=", "<="], [">", ">"], ["<", "<"]]);
const KNOWN_COMPARATORS = new Set(COMPARATORS.values());
const SHAPES = [["as", "n", "unit"], ["as", "low", "high", "unit"], ["as", "cmp", "n", "unit"],
  ["as", "special", "unit"], ["as", "unit"]];

/**
 * Return the value that typed text gives; unreadable text is kept as typed. `unit`:
 * what was said beside the number; null: the field's only unit, or "" (not said). A
 * unit of the field typed behind the number counts too, unless it contradicts `unit`.
 * @param {FieldSpec} field
 * @param {string} raw
 * @param {string | null} unit
 * @returns {JsonObject}
 */
export function readQuantity(field, raw, unit) {
  const only = field.units.length === 1 ? field.units[0] ?? "" : "";
  let said = unit ?? only;
  const text = western(raw);
  let found = figure(text);
  if (!found) {
    const typed = splitUnit(text, field.units);
    if (typed.unit !== null && (said === "" || said === typed.unit)) {
      found = figure(trim(typed.body));
      said = typed.unit;
    }
  }
  return { as: raw, ...(found ?? {}), unit: said };
}

/**
 * @param {string} text
 * @returns {Figure | null}
 */
function figure(text) {
  if (isLong(text)) return null;
  const word = WORDS.get(asciiLower(text));
  if (word !== undefined) return { special: word };
  const number = canonical(text);
  if (number !== null) return { n: number };
  return compared(text) ?? range(text);
}

/**
 * @param {string} text
 * @returns {Figure | null}
 */
function compared(text) {
  const match = /^(>=|<=|[<>≥≤])([^]*)$/.exec(text);
  const number = match ? canonical(trim(match[2] ?? "")) : null;
  const cmp = COMPARATORS.get(match?.[1] ?? "");
  return number !== null && cmp !== undefined ? { cmp, n: number } : null;
}

/**
 * Read "20-30", "20 – 30", "-30 to 10"; never one whose low end is higher: "140-90"
 * in a box for one pressure is two pressures.
 * @param {string} text
 * @returns {Figure | null}
 */
function range(text) {
  for (const match of text.slice(1).matchAll(/[-–—]|to/g)) {
    const low = canonical(trim(text.slice(0, match.index + 1)));
    const high = canonical(trim(text.slice(match.index + 1 + match[0].length)));
    if (low !== null && high !== null) return compare(exact(low), exact(high)) <= 0 ? { low, high } : null;
  }
  return null;
}

/**
 * Tell whether `value` has one of the five shapes of a quantity.
 * @param {unknown} value
 * @returns {value is JsonObject}
 */
export function isQuantity(value) {
  if (!isObject(value) || !SHAPES.some((keys) => hasKeys(value, keys))) return false;
  if (!isSaid(value.as) || typeof value.unit !== "string") return false;
  if (["n", "low", "high"].some((key) => Object.hasOwn(value, key) && !isCanonical(value[key]))) return false;
  if (!isWordOf(value, "special", SPECIALS) || !isWordOf(value, "cmp", KNOWN_COMPARATORS)) return false;
  return !Object.hasOwn(value, "low") || compare(exact(String(value.low)), exact(String(value.high))) <= 0;
}

/**
 * Tell whether `value` lacks the key, or holds one of the known words there.
 * @param {JsonObject} value
 * @param {string} key
 * @param {Set<string>} known
 * @returns {boolean}
 */
function isWordOf(value, key, known) {
  const word = value[key];
  return !Object.hasOwn(value, key) || (typeof word === "string" && known.has(word));
}

/**
 * Return the decimals of a quantity: one, both ends of a range, or none.
 * @param {JsonObject} value
 * @returns {string[]}
 */
export function figures(value) {
  return ["n", "low", "high"].filter((key) => Object.hasOwn(value, key)).map((key) => String(value[key]));
}
