/** @import { Fold } from "../types.js" */
/** @import { Exact } from "./types.js" */
import { ratio } from "./exact.js";
import { heads } from "./over.js";
import { isObject } from "./rows.js";

/** Calendar. */
const YEAR_MONTHS = 12n;
const DAY = /^[0-9]{4}-[0-9]{2}-[0-9]{2}$/;
/** Calendar: the first moment no date of either language can hold. */
const YEAR_10000_MS = 253_402_300_800_000;

/**
 * Return every birth date told that nobody has settled.
 * @param {Fold} fold
 * @returns {any[]} any: birth dates as kept
 */
export function dated(fold) {
  return heads(fold, "patient.birth_date").filter((one) => isObject(one) && "date" in one);
}

/**
 * Return whole months since birth on the first day; null without a birth date. Of several
 * birth dates the latest.
 * @param {Fold} fold
 * @returns {Exact | null}
 */
export function wholeMonths(fold) {
  const day = firstDay(fold);
  const born = dated(fold).map((one) => one.date);
  const dates = born.filter((one) => typeof one === "string" && DAY.test(one) && day && one <= day);
  const date = dates.sort().at(-1);
  if (!day || date === undefined) return null;
  const years = BigInt(day.slice(0, 4)) - BigInt(date.slice(0, 4));
  const months = BigInt(day.slice(5, 7)) - BigInt(date.slice(5, 7));
  return ratio(years * YEAR_MONTHS + months - (day.slice(8) >= date.slice(8) ? 0n : 1n), 1n);
}

/**
 * Return whole years from one ISO day to another, null where it runs backwards.
 * @param {unknown} born
 * @param {string} day
 * @returns {Exact | null}
 */
export function yearsBetween(born, day) {
  if (typeof born !== "string" || !DAY.test(born) || born > day) return null;
  const hadBirthday = day.slice(5) >= born.slice(5);
  return ratio(BigInt(day.slice(0, 4)) - BigInt(born.slice(0, 4)) - (hadBirthday ? 0n : 1n), 1n);
}

/**
 * Return the local day of the first entry that says when it was made.
 * @param {Fold} fold
 * @returns {string | null}
 */
export function firstDay(fold) {
  const id = fold.order.find((one) => fold.entries[one].time_ms > 0 && fold.entries[one].time_ms < YEAR_10000_MS);
  if (id === undefined) return null;
  const { at, time_ms } = fold.entries[id];
  const offset = at.offset_min;
  const minutes = Number.isInteger(offset) && Math.abs(offset) <= 1440 ? offset : 0;
  const local = Math.min(time_ms + minutes * 60_000, YEAR_10000_MS - 1);
  return new Date(local).toISOString().slice(0, 10);
}
