/** @import { Fold } from "../types.js" */
/** @import { Amount } from "./types-drugs.js" */
/** @import { Exact } from "./types.js" */
import { certainEnds } from "./certain.js";
import { compare, decimal, product, quotient, ratio } from "./exact.js";
import { endsOf, isObject, oneAnswer } from "./rows.js";

/** @type {{[unit: string]: Exact}} prefixes of the catalogue's units, in mg */
export const MG_PER = { g: ratio(1000n, 1n), mg: ratio(1n, 1n), ug: ratio(1n, 1000n) };
/** Steps of the catalogue: of a volume, of a dose. */
export const TENTH = ratio(1n, 10n);
/** A step of the catalogue. */
export const HUNDREDTH = ratio(1n, 100n);
export const NONE = ratio(0n, 1n);
/** @type {Amount} */
export const UNKNOWN = { low: null, high: null };

/**
 * Tell whether an amount is one number.
 * @param {Amount} one
 * @returns {boolean}
 */
export function isExact({ low, high }) {
  return low !== null && high !== null && compare(low, high) === 0;
}

/**
 * Tell whether anything is known of an amount.
 * @param {Amount} one
 * @returns {boolean}
 */
export function isKnown({ low, high }) {
  return low !== null || high !== null;
}

/**
 * Return an amount as many times over.
 * @param {Amount} one
 * @param {Exact} factor
 * @returns {Amount}
 */
export function timesOver({ low, high }, factor) {
  return { low: low && product(low, factor), high: high && product(high, factor) };
}

/**
 * Return a dose per kg for a weight in kg, from the lightest to the heaviest.
 * @param {Amount} one
 * @param {Amount} weight
 * @returns {Amount}
 */
export function perKg(one, weight) {
  return { low: one.low && weight.low && product(one.low, weight.low), high: one.high && weight.high && product(one.high, weight.high) };
}

/**
 * Return what each kg of a weight gets of an amount; weights are never nothing.
 * @param {Amount} one
 * @param {Amount} weight
 * @returns {Amount}
 */
export function inEachKg(one, weight) {
  return { low: one.low && weight.high && quotient(one.low, weight.high), high: one.high && weight.low && quotient(one.high, weight.low) };
}

/**
 * Return what a quantity says in one of these units; a negative one says nothing.
 * @param {any} value any: a quantity as kept
 * @param {...string} units
 * @returns {Amount}
 */
export function amount(value, ...units) {
  for (const unit of units) {
    const [low, high] = endsOf(value, unit);
    if ([low, high].some((end) => end !== null && end.n < 0n)) return UNKNOWN;
    if (low !== null || high !== null) return { low, high };
  }
  return UNKNOWN;
}

/**
 * Return what is known of the patient's weight.
 * @param {Fold} fold
 * @returns {Amount}
 */
export function weightKg(fold) {
  const [low, high] = certainEnds(oneAnswer(fold, "patient.weight"), "kg");
  return { low, high };
}

/**
 * Return a dose in mg; one per kg only with a weight, in kg.
 * @param {any} value any: a quantity as kept
 * @param {Amount} weight
 * @returns {Amount}
 */
export function massMg(value, weight) {
  const unit = isObject(value) && typeof value.unit === "string" ? value.unit : "";
  const mass = unit.replace(/\/kg$/, "");
  if (!Object.hasOwn(MG_PER, mass)) return UNKNOWN;
  const said = timesOver(amount(value, unit), MG_PER[mass]);
  return mass === unit ? said : perKg(said, weight);
}

/**
 * Return what is there, never more: cut to the step, without needless zeros.
 * @param {Exact} value not below zero
 * @param {Exact} [step]
 * @returns {string}
 */
export function cut(value, step = TENTH) {
  const whole = (value.n * step.d) / (value.d * step.n);
  return decimal(ratio(whole * step.n, step.d));
}

/**
 * Return what was given, never less: raised to the step.
 * @param {Exact} value not below zero
 * @param {Exact} [step]
 * @returns {string}
 */
export function raised(value, step = TENTH) {
  const below = value.d * step.n;
  const whole = (value.n * step.d + below - 1n) / below;
  return decimal(ratio(whole * step.n, step.d));
}
