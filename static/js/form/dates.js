/** Calendar days: typed day first, and the kind "date". */

import { asciiLower, isLong, isSaid, western } from "./typed.js";
import { OK, found, hasKeys, illegal, isObject } from "./verdicts.js";

/** @typedef {import("../types-form.js").FieldSpec} FieldSpec */
/** @typedef {import("../types.js").JsonObject} JsonObject */
/** @typedef {import("../types-form.js").Verdict} Verdict */

const LONG = ["january", "february", "march", "april", "may", "june", "july",
  "august", "september", "october", "november", "december"];

/** Month names as shown: "Jan" first. */
export const MONTHS = LONG.map((name) => name.charAt(0).toUpperCase() + name.slice(1, 3));

/** @type {Map<string, number>} */
const NAMED = new Map([
  ...LONG.flatMap((name, i) => [name, name.slice(0, 3)].map((form) => /** @type {const} */ ([form, i + 1]))),
  ["sept", 9],
]);
const DAY_FIRST = /^([0-9]{1,2})(?: *[./-] *| +)([0-9]{1,2})(?: *[./-] *| +)([0-9]{4}|[0-9]{2})$/;
const WORD_MONTH = /^([0-9]{1,2})(?:[. -] *)([A-Za-z]{3,9})(?:[. -] *)([0-9]{4}|[0-9]{2})$/;
const YEAR_FIRST = /^([0-9]{4})[./-]([0-9]{1,2})[./-]([0-9]{1,2})$/;
const ISO = /^([0-9]{4})-([0-9]{2})-([0-9]{2})$/;
const MONTH_DAYS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/**
 * Return "1954-02-03", or null where the calendar has no such day.
 * @param {number} year from 1000 to 9999
 * @param {number} month
 * @param {number} day
 * @returns {string | null}
 */
export function isoDay(year, month, day) {
  const isLeap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
  const last = (MONTH_DAYS[month - 1] ?? 0) + (month === 2 && isLeap ? 1 : 0);
  if (year < 1000 || year > 9999 || day < 1 || day > last) return null;
  return `${year}-${String(month).padStart(2, "0")}-${String(day).padStart(2, "0")}`;
}

/**
 * Tell whether `text` is a day of the calendar, written 1954-02-03.
 * @param {unknown} text
 * @returns {text is string}
 */
export function isIsoDay(text) {
  const match = typeof text === "string" ? ISO.exec(text) : null;
  return match !== null && isoDay(Number(match[1]), Number(match[2]), Number(match[3])) !== null;
}

/**
 * Return the day a text names as "1954-02-03", or null. Day first, always, or year
 * first. A year of two figures is the latest such day not after `today`.
 * @param {string} raw
 * @param {string | null} [today]
 * @returns {string | null}
 */
export function typedDay(raw, today = null) {
  const text = western(raw);
  if (isLong(text)) return null;
  const iso = YEAR_FIRST.exec(text);
  if (iso) return isoDay(Number(iso[1]), Number(iso[2]), Number(iso[3]));
  const match = DAY_FIRST.exec(text);
  if (match) return withYear(match[3] ?? "", Number(match[2]), Number(match[1]), today);
  const named = WORD_MONTH.exec(text);
  if (!named) return null;
  return withYear(named[3] ?? "", NAMED.get(asciiLower(named[2] ?? "")) ?? 0, Number(named[1]), today);
}

/**
 * @param {string} year four or two figures
 * @param {number} month
 * @param {number} day
 * @param {string | null} today
 * @returns {string | null}
 */
function withYear(year, month, day, today) {
  if (year.length === 4) return isoDay(Number(year), month, day);
  if (today === null) return null;
  const century = Number(today.slice(0, 2)) * 100;
  for (const start of [century, century - 100]) {
    const candidate = isoDay(start + Number(year), month, day);
    if (candidate !== null && candidate <= today) return candidate;
  }
  return null;
}

/**
 * Return the value that typed text gives; an unreadable date has no `date`.
 * @param {string} raw
 * @param {string | null} today
 * @returns {JsonObject}
 */
export function readDate(raw, today) {
  const day = typedDay(raw, today);
  return day === null ? { as: raw } : { as: raw, date: day };
}

/**
 * Judge a JSON value of kind date. `field.hard`: how many years before `today` it may
 * lie, 0 to 125 unless said. Without `today` only the calendar is judged.
 * @param {FieldSpec} field
 * @param {unknown} value
 * @param {string | null} today
 * @returns {Verdict}
 */
export function checkDate(field, value, today) {
  if (!isObject(value) || !isSaid(value.as)) return illegal(field);
  const typed = value.as;
  if (hasKeys(value, ["as"])) return found("impossible", field, "no_such_date", { typed });
  const day = value.date;
  if (!hasKeys(value, ["as", "date"]) || !isIsoDay(day)) return illegal(field);
  const read = typedDay(typed, day);
  if (read !== null && read !== day) return found("impossible", field, "contradicts_typed", { typed });
  return today === null ? OK : against(field, typed, day, today);
}

/**
 * @param {FieldSpec} field
 * @param {string} typed
 * @param {string} day
 * @param {string} today
 * @returns {Verdict}
 */
function against(field, typed, day, today) {
  const { low, high } = field.hard ?? { low: "0", high: "125" };
  const earliest = yearsBefore(today, Number(high));
  if (day > yearsBefore(today, Number(low))) return found("impossible", field, "date_future", { typed });
  if (day < earliest) return found("impossible", field, "date_too_old", { typed, years: high });
  const year = day.slice(0, 4);
  if (western(typed).includes(year) || yearsBefore(day, 100) < earliest) return OK;
  return found("soft", field, "century_assumed", { typed, year });
}

/**
 * Return the same day of the year `years` earlier, for comparing as text only.
 * @param {string} day
 * @param {number} years
 * @returns {string}
 */
function yearsBefore(day, years) {
  return String(Number(day.slice(0, 4)) - years).padStart(4, "0") + day.slice(4);
}
