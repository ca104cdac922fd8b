/** The tablet's kinds, conditions and words, with all they need as data. */
import { check, parse } from "../../static/js/form/kinds.js";
import { holds } from "../../static/js/form/when.js";
import { words } from "../../static/js/form/words.js";
import { encodeBody } from "../../static/js/log/entry.js";

const NOTHING = { values: [], ids: [], rows: [] };

/**
 * Whether a condition holds on answers, and the ids this rests on.
 * @param {object} condition
 * @param {{[path: string]: object}} answers path to {values, ids, rows, unit, units}
 */
export function holdsIn(condition, answers) {
  return holds(condition, (path) => ({ ...NOTHING, ...answers[path] }));
}

/**
 * Everything said of typed text: its value, the verdict, the words.
 * @param {object} field
 * @param {string} raw
 * @param {string | null} unit
 * @param {{today: string, zone: string}} setting
 */
export function typed(field, raw, unit, setting) {
  const value = parse(field, raw, unit, setting);
  return { value, ...judged(field, value, setting) };
}

/**
 * Everything said of a value: the verdict, the words.
 * @param {object} field
 * @param {unknown} value
 * @param {{today: string}} setting
 */
export function judged(field, value, setting) {
  return { verdict: check(field, value, setting), words: words(field, value, setting.today) };
}

/**
 * What `typed` says of many texts, each field sent once.
 * @param {object[]} fields
 * @param {[number, string, string | null][]} cases the field's place, the text, the unit
 * @param {{today: string, zone: string}} setting
 */
export function everyTyped(fields, cases, setting) {
  return cases.map(([place, raw, unit]) => typed(fields[place], raw, unit, setting));
}

/**
 * What `judged` says of many values, each field sent once.
 * @param {object[]} fields
 * @param {[number, unknown][]} cases the field's place, the value
 * @param {{today: string}} setting
 */
export function everyJudged(fields, cases, setting) {
  return cases.map(([place, value]) => judged(fields[place], revived(value), setting));
}

const NO_JSON = { NaN, Infinity, "-Infinity": -Infinity, undefined };

/**
 * Put in place what JSON cannot carry: {"no json": "NaN"} stands for NaN.
 * @param {any} value
 */
function revived(value) {
  if (typeof value !== "object" || value === null) return value;
  if (Array.isArray(value)) return value.map(revived);
  if (Object.hasOwn(value, "no json")) return NO_JSON[value["no json"]];
  return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, revived(inner)]));
}

/**
 * The body of an entry for each typed text, as bytes in base64; null for nothing said.
 * @param {object[]} fields
 * @param {[number, string, string | null][]} cases
 * @param {{today: string, zone: string}} setting
 * @param {object} body all of a body but its value
 */
export function everyBody(fields, cases, setting, body) {
  return cases.map(([place, raw, unit]) => {
    const value = parse(fields[place], raw, unit, setting);
    return value === null ? null : Buffer.from(encodeBody({ ...body, value })).toString("base64");
  });
}
