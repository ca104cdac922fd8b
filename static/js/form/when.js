/**
 * The one condition language: conditions as data, answers with their evidence. The
 * same as webapp/catalogue/when.py, where the operators are listed; held equal by
 * fixtures/vectors/when.json.
 */

import { isBefore, isCurrent, isLess, isSame } from "./comparisons.js";
import { isObject } from "./verdicts.js";

/** @typedef {import("../types.js").Json} Json */
/** @typedef {import("../types.js").JsonObject} JsonObject */
/** @typedef {import("../types-form.js").ReadPath} ReadPath */
/** @typedef {[boolean, string[]]} Held whether it holds, and the entry ids this rests on */

const ROW = "row.";

/**
 * Return whether a condition holds, and the entry ids that this rests on.
 * @param {JsonObject} condition
 * @param {ReadPath} read
 * @returns {Held}
 * @throws {Error} when the condition is not of the language
 */
export function holds(condition, read) {
  const keys = Object.keys(condition);
  if (keys.length === 1 && keys[0] === "not") {
    const [held, ids] = holds(asCondition(condition.not), read);
    return [!held, ids];
  }
  if (keys.length === 1 && keys[0] === "all") return joined(condition.all, read, false);
  if (keys.length === 1 && keys[0] === "any") return joined(condition.any, read, true);
  if (keys.includes("rows") && keys.every((key) => ["rows", "where", "counts"].includes(key))) {
    return counts(condition, read);
  }
  if (keys.length === 2 && keys.includes("field")) return answers(condition, read);
  throw notOne(condition);
}

/**
 * @param {unknown} value
 * @returns {Error}
 */
function notOne(value) {
  return new Error(`not a condition: ${JSON.stringify(value)}`);
}

/**
 * @param {unknown} value
 * @returns {JsonObject}
 */
function asCondition(value) {
  if (!isObject(value)) throw notOne(value);
  return value;
}

/**
 * @param {unknown} parts
 * @param {ReadPath} read
 * @param {boolean} deciding the answer of one part that decides for all
 * @returns {Held}
 */
function joined(parts, read, deciding) {
  if (!Array.isArray(parts)) throw notOne(parts);
  const held = parts.map((part) => holds(asCondition(part), read));
  const decided = held.filter(([answer]) => answer === deciding);
  const restsOn = decided.length > 0 ? decided : held;
  return [decided.length > 0 === deciding, unique(restsOn.flatMap(([, ids]) => ids))];
}

/**
 * @param {JsonObject} condition
 * @param {ReadPath} read
 * @returns {Held}
 */
function counts(condition, read) {
  const wanted = condition.counts ?? 1;
  if (typeof wanted !== "number" || !Number.isInteger(wanted) || wanted < 1) throw notOne(condition);
  const where = asCondition(Object.hasOwn(condition, "where") ? condition.where : { all: [] });
  const { rows, units = {} } = read(String(condition.rows));
  const fitting = rows.filter((row) => holds(where, inRow(row, units, read))[0]);
  const enough = fitting.length >= wanted;
  return [enough, unique((enough ? fitting : rows).map((row) => String(row.id)))];
}

/**
 * @param {JsonObject} row
 * @param {{[child: string]: string}} units
 * @param {ReadPath} read
 * @returns {ReadPath}
 */
function inRow(row, units, read) {
  return (path) => {
    if (!path.startsWith(ROW)) return read(path);
    const name = path.slice(ROW.length);
    const values = Object.hasOwn(row, name) ? [row[name] ?? null] : [];
    return { values, ids: [String(row.id)], rows: [], unit: units[name] ?? "" };
  };
}

/**
 * @param {JsonObject} condition
 * @param {ReadPath} read
 * @returns {Held}
 */
function answers(condition, read) {
  const here = read(String(condition.field));
  const { values, unit = "" } = here;
  const ids = unique(here.ids);
  const { has, is, in: among, lt, before } = condition;
  if (typeof has === "boolean") return [isCurrent(values) === has, ids];
  if (typeof is === "string") return [isSame(values, is, unit), ids];
  if (Array.isArray(among) && among.every((wanted) => typeof wanted === "string")) {
    return [among.some((wanted) => isSame(values, String(wanted), unit)), ids];
  }
  if (typeof lt === "string") {
    const less = isLess(values, lt, unit);
    if (less === null) throw notOne(condition);
    return [less, ids];
  }
  if (typeof before === "string") {
    const there = read(before);
    return [isBefore(values, there.values), unique([...here.ids, ...there.ids])];
  }
  throw notOne(condition);
}

/**
 * @param {string[]} ids
 * @returns {string[]}
 */
function unique(ids) {
  return [...new Set(ids)];
}
