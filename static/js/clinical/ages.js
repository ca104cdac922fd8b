/** @import { Fold } from "../types.js" */
/** @import { AgeClass, Exact, Limits, Size } from "./types.js" */
import { isLess, number, quotient, ratio } from "./exact.js";
import { HARD_HEIGHT, endsOf, isObject, oneAnswer, point } from "./rows.js";

const CHILD_BY_LOOK = ["newborn", "infant", "child", "adolescent"];
/** Calendar. */
const YEAR_MONTHS = 12n;
const DAY = /^[0-9]{4}-[0-9]{2}-[0-9]{2}$/;
/** Calendar: the first moment no date of either language can hold. */
const YEAR_10000_MS = 253_402_300_800_000;
/** @type {[string, bigint][]} calendar: days and hours of an ordinary year */
const PER_YEAR = [
  ["a", 1n],
  ["d", 365n],
  ["h", 8760n],
];

/**
 * Return whether adult limits apply. Under `adult_from_years`: no. Age not known: no when
 * lighter than `adult_from_kg`, shorter than `adult_from_cm`, or a child by look.
 * @param {Size} size
 * @param {Limits} limits
 * @returns {AgeClass}
 */
export function ageClass(size, limits) {
  if (size.years) return { is_adult: !isUnder(size.years, limits.adult_from_years), age_known: true };
  const isChild =
    isUnder(size.weight_kg, limits.adult_from_kg) ||
    isUnder(size.height_cm, limits.adult_from_cm) ||
    CHILD_BY_LOOK.includes(size.by_look);
  return { is_adult: !isChild, age_known: false };
}

/**
 * Return age and size as the record says them, on the day of its first entry.
 * @param {Fold} fold
 * @returns {Size}
 */
export function sizeOf(fold) {
  const look = oneAnswer(fold, "patient.age_class");
  return {
    years: years(fold),
    weight_kg: number(point(oneAnswer(fold, "patient.weight"), "kg").n),
    height_cm: number(point(oneAnswer(fold, "patient.height"), "cm", HARD_HEIGHT).n),
    by_look: typeof look === "string" ? look : "",
  };
}

/**
 * Return whole months since birth on the first day; null without a birth date.
 * @param {Fold} fold
 * @returns {Exact | null}
 */
export function wholeMonths(fold) {
  const born = oneAnswer(fold, "patient.birth_date");
  const day = firstDay(fold);
  const date = isObject(born) ? born.date : null;
  if (typeof date !== "string" || !DAY.test(date) || !day || date > day) return null;
  const years = BigInt(day.slice(0, 4)) - BigInt(date.slice(0, 4));
  const months = BigInt(day.slice(5, 7)) - BigInt(date.slice(5, 7));
  return ratio(years * YEAR_MONTHS + months - (day.slice(8) >= date.slice(8) ? 0n : 1n), 1n);
}

/**
 * @param {Exact | null} value
 * @param {string | undefined} limit
 * @returns {boolean}
 */
function isUnder(value, limit) {
  const bound = number(limit);
  return value !== null && bound !== null && isLess(value, bound);
}

/**
 * @param {Fold} fold
 * @returns {Exact | null}
 */
function years(fold) {
  const born = oneAnswer(fold, "patient.birth_date");
  const day = firstDay(fold);
  if (isObject(born) && "date" in born && day) return between(born.date, day);
  const told = oneAnswer(fold, "patient.estimated_age");
  for (const [unit, perYear] of PER_YEAR) {
    const [low, high] = endsOf(told, unit);
    // Of a range its lower end counts: a limit for adults is never shown on a guess.
    const known = low ?? high;
    if (known && known.n >= 0n) return quotient(known, ratio(perYear, 1n));
  }
  return null;
}

/**
 * Return whole years from one ISO day to another, null where it runs backwards.
 * @param {unknown} born
 * @param {string} day
 * @returns {Exact | null}
 */
function between(born, day) {
  if (typeof born !== "string" || !DAY.test(born) || born > day) return null;
  const hadBirthday = day.slice(5) >= born.slice(5);
  return ratio(BigInt(day.slice(0, 4)) - BigInt(born.slice(0, 4)) - (hadBirthday ? 0n : 1n), 1n);
}

/**
 * Return the local day of the first entry that says when it was made.
 * @param {Fold} fold
 * @returns {string | null}
 */
function firstDay(fold) {
  const id = fold.order.find((one) => fold.entries[one].time_ms > 0 && fold.entries[one].time_ms < YEAR_10000_MS);
  if (id === undefined) return null;
  const { at, time_ms } = fold.entries[id];
  const offset = at.offset_min;
  const minutes = Number.isInteger(offset) && Math.abs(offset) <= 1440 ? offset : 0;
  const local = Math.min(time_ms + minutes * 60_000, YEAR_10000_MS - 1);
  return new Date(local).toISOString().slice(0, 10);
}
