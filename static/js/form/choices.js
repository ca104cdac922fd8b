/** Answers picked from a list: the kinds "yn", "one" and "many". */

import { asciiLower, isSaid, trim } from "./typed.js";
import { OK, found, illegal, isObject, worst } from "./verdicts.js";

/** @typedef {import("../types-form.js").ChoiceSpec} ChoiceSpec */
/** @typedef {import("../types-form.js").FieldSpec} FieldSpec */
/** @typedef {import("../types-form.js").Verdict} Verdict */
/** @typedef {string | {[code: string]: string}} Pick */

/** @type {Map<string, string>} */
const YES_NO = new Map([["y", "yes"], ["n", "no"], ["yes", "yes"], ["no", "no"]]);

/**
 * Return the choice that typed text names, by code or label. Unknown text becomes the
 * field's "other", or stands as typed (illegal) where the list is closed.
 * @param {FieldSpec} field
 * @param {string} raw
 * @returns {Pick}
 */
export function readPick(field, raw) {
  const typed = trim(raw);
  const folded = asciiLower(typed);
  const choice = field.choices.find((one) => [one.code, one.label].map(asciiLower).includes(folded));
  if (choice) return choice.code;
  return choiceOf(field, "other")?.takes_text ? { other: typed } : typed;
}

/**
 * Return the choices named in a text, set apart by commas or newlines.
 * @param {FieldSpec} field
 * @param {string} raw
 * @returns {Pick[]}
 */
export function readPicks(field, raw) {
  /** @type {Map<string, Pick>} */
  const picks = new Map();
  for (const piece of raw.split(/[\n,]/)) {
    if (!isSaid(piece)) continue;
    const pick = readPick(field, piece);
    picks.set(JSON.stringify(pick), picks.get(JSON.stringify(pick)) ?? pick);
  }
  return [...picks.values()];
}

/**
 * Return "yes" or "no" where the text says so, else the text as typed.
 * @param {string} raw
 * @returns {string}
 */
export function readYesNo(raw) {
  return YES_NO.get(asciiLower(trim(raw))) ?? trim(raw);
}

/**
 * Return the field's choice with this code, or null.
 * @param {FieldSpec} field
 * @param {string} code
 * @returns {ChoiceSpec | null}
 */
export function choiceOf(field, code) {
  return field.choices.find((choice) => choice.code === code) ?? null;
}

/**
 * Return the choice code of one pick, or null where its shape is no pick's.
 * @param {unknown} pick
 * @returns {string | null}
 */
export function codeOf(pick) {
  if (typeof pick === "string") return pick;
  const [code, ...more] = isObject(pick) ? Object.keys(pick) : [];
  return code !== undefined && more.length === 0 && isObject(pick) && isSaid(pick[code]) ? code : null;
}

/**
 * Judge a JSON value of kind one.
 * @param {FieldSpec} field
 * @param {unknown} value
 * @returns {Verdict}
 */
export function checkOne(field, value) {
  const code = codeOf(value);
  const choice = code === null ? null : choiceOf(field, code);
  if (!choice || (typeof value !== "string" && !choice.takes_text)) return illegal(field);
  if (choice.takes_text && typeof value === "string") {
    return found("ok", field, "text_missing", { choice: choice.label });
  }
  return OK;
}

/**
 * Judge a JSON value of kind many: a list of different picks, never empty.
 * @param {FieldSpec} field
 * @param {unknown} value
 * @returns {Verdict}
 */
export function checkMany(field, value) {
  if (!Array.isArray(value) || value.length === 0) return illegal(field);
  const codes = value.map(codeOf);
  if (new Set(codes).size < codes.length) return illegal(field);
  const nothing = codes.some((code) => code === "none" || code?.startsWith("none_"));
  const both = nothing && codes.length > 1 ? found("soft", field, "none_and_more") : OK;
  return worst([...value.map((pick) => checkOne(field, pick)), both]);
}

/**
 * Judge a JSON value of kind yn.
 * @param {FieldSpec} field
 * @param {unknown} value
 * @returns {Verdict}
 */
export function checkYesNo(field, value) {
  return value === "yes" || value === "no" ? OK : illegal(field);
}
