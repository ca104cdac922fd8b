/** @import { Fold } from "../types.js" */
/** @import { AgeClass, Exact, Limits, Size } from "./types.js" */
import { dated, firstDay, yearsBetween } from "./birth.js";
import { isLess, number, quotient, ratio } from "./exact.js";
import { heads } from "./over.js";
import { HARD, HARD_HEIGHT, endsOf } from "./rows.js";

const CHILD_BY_LOOK = ["newborn", "infant", "child", "adolescent"];
/** @type {[string, bigint][]} calendar: days and hours of an ordinary year */
const PER_YEAR = [
  ["a", 1n],
  ["d", 365n],
  ["h", 8760n],
];
/** Derived: of "< 18" only that 18 is not reached: less by an hour of a year (calendar). */
const NOT_REACHED = 8760n;

/**
 * Return whether adult limits apply. Under `adult_from_years`, by any answer: no. Age not
 * known, two answers included: no when lighter than `adult_from_kg`, shorter than
 * `adult_from_cm`, or a child by look.
 * @param {Size} size
 * @param {Limits} limits
 * @returns {AgeClass}
 */
export function ageClass(size, limits) {
  const isYoung = isUnder(size.years, limits.adult_from_years);
  if (size.years && size.is_settled !== false) return { is_adult: !isYoung, age_known: true };
  const isChild =
    isYoung ||
    isUnder(size.weight_kg, limits.adult_from_kg) ||
    isUnder(size.height_cm, limits.adult_from_cm) ||
    CHILD_BY_LOOK.includes(size.by_look);
  return { is_adult: !isChild, age_known: false };
}

/**
 * Return age and size as the record says them, on the day of its first entry. Of several
 * answers the lowest, of a range its lower end, of the looks a child's: a limit for adults is
 * never shown on a guess.
 * @param {Fold} fold
 * @returns {Size}
 */
export function sizeOf(fold) {
  const looks = heads(fold, "patient.age_class").filter((one) => typeof one === "string");
  return {
    years: years(fold),
    weight_kg: lowest(heads(fold, "patient.weight").map((one) => least(one, "kg", HARD.kg))),
    height_cm: lowest(heads(fold, "patient.height").map((one) => least(one, "cm", HARD_HEIGHT))),
    by_look: CHILD_BY_LOOK.find((one) => looks.includes(one)) ?? looks[0] ?? "",
    is_settled: isSettled(fold),
  };
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
  const day = firstDay(fold);
  const born = day ? dated(fold).map((one) => yearsBetween(one.date, day)) : [];
  if (born.length > 0 && fold.values["patient.birth_date"].length === 1) return born[0];
  const told = heads(fold, "patient.estimated_age").flatMap((value) =>
    PER_YEAR.map(([unit, perYear]) => {
      const age = least(value, unit, null);
      return age && quotient(age, ratio(perYear, 1n));
    }),
  );
  return lowest([...born, ...told]);
}

/**
 * Return the lowest a quantity is for certain; under its upper end without one.
 * @param {unknown} value
 * @param {string} unit
 * @param {[Exact, Exact] | null} hard
 * @returns {Exact | null}
 */
function least(value, unit, hard) {
  const [low, high] = endsOf(value, unit);
  const known = low ?? high;
  if (!known || known.n < 0n || (hard && (isLess(known, hard[0]) || isLess(hard[1], known)))) return null;
  return low ? known : ratio(known.n * NOT_REACHED - known.d, known.d * NOT_REACHED);
}

/** Tell whether one answer alone tells of the age. @param {Fold} fold */
function isSettled(fold) {
  const several = (/** @type {string} */ name) => (fold.values[name] ?? []).length > 1;
  return !several("patient.birth_date") && (!several("patient.estimated_age") || dated(fold).length > 0);
}

/** @param {(Exact | null)[]} told @returns {Exact | null} */
function lowest(told) {
  return told.reduce((low, one) => (one && (!low || isLess(one, low)) ? one : low), null);
}
