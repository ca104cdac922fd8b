/** @import { CaseRead } from "../types-form.js" */

/** What a scanner may put before the number to say which kind of code it read. */
const KIND_OF_CODE = /^\][A-Za-z][0-9A-Za-z]/;
const CONTROL = /[\x00-\x1f\x7f]/g;
const NUMBERS = ["patient.record_number", "patient.encounter_number"];

/** @typedef {"first" | "same" | "different"} BandVerdict */

/**
 * Return the number on a band as printed: leading zeros stay, nothing is put between.
 * @param {string} text as scanned
 * @returns {string}
 */
export function bandNumber(text) {
  return text.replace(KIND_OF_CODE, "").replace(CONTROL, "").trim();
}

/**
 * Tell whether a code is known to be no wristband: a drug, a blood bag.
 * @param {string} text as scanned
 * @param {string[]} patterns the hospital's own; one that cannot be read refuses nothing
 * @returns {boolean}
 */
export function isNoBand(text, patterns) {
  const said = text.replace(KIND_OF_CODE, "");
  return patterns.some((pattern) => {
    try {
      return new RegExp(pattern).test(said);
    } catch {
      return false;
    }
  });
}

/**
 * Say what a band is to a case: it fills only what is empty, and a number that is
 * there already is the same or another.
 * @param {CaseRead} now
 * @param {string} number
 * @returns {BandVerdict}
 */
export function judgeBand(now, number) {
  if (hasNumber(now, number)) return "same";
  const told = now.answer("patient.record_number");
  return told.heads.some((head) => typeof head === "string") ? "different" : "first";
}

/**
 * Tell whether a case has this number, as its record's or its encounter's.
 * @param {CaseRead} now
 * @param {string} number
 */
export function hasNumber(now, number) {
  return NUMBERS.some((path) => now.answer(path).heads.includes(number));
}
