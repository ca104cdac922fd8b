/** @import { Exact } from "./types.js" */

/** Fifteen figures on either side of the point: what a value of the record may hold. */
const NUMBER = /^(-?)([0-9]{1,15})(?:\.([0-9]{1,15}))?$/;
const RATIO = /^([0-9]{1,15})\/([1-9][0-9]{0,14})$/;

/**
 * Return a decimal such as "1.5" as an exact fraction, or null when it is none.
 * @param {unknown} text
 * @returns {Exact | null}
 */
export function number(text) {
  if (typeof text !== "string") return null;
  const match = NUMBER.exec(text);
  if (!match) return null;
  const part = match[3] ?? "";
  const figures = BigInt(match[2] + part);
  return ratio(match[1] ? -figures : figures, 10n ** BigInt(part.length));
}

/**
 * Return "2/3", or a decimal, as an exact fraction, or null when it is neither. Only a
 * limit may be a ratio; what a person read from a dial never is.
 * @param {unknown} text
 * @returns {Exact | null}
 */
export function ratioOf(text) {
  const match = typeof text === "string" ? RATIO.exec(text) : null;
  return match ? ratio(BigInt(match[1]), BigInt(match[2])) : number(text);
}

/**
 * Return a fraction as a decimal in its one form: "1.5", "2", "-0.25".
 * @param {Exact} value
 * @returns {string}
 * @throws {RangeError} when it has no end, as 2/3
 */
export function decimal(value) {
  const many = places(value.d);
  const size = value.n < 0n ? -value.n : value.n;
  const figures = ((size * 10n ** BigInt(many)) / value.d).toString().padStart(many + 1, "0");
  const whole = figures.slice(0, figures.length - many);
  const part = figures.slice(figures.length - many);
  return `${value.n < 0n ? "-" : ""}${whole}${part ? `.${part}` : ""}`;
}

/**
 * Make a fraction in lowest terms.
 * @param {bigint} n
 * @param {bigint} d not zero
 * @returns {Exact}
 */
export function ratio(n, d) {
  const sign = d < 0n ? -1n : 1n;
  const common = divisor(n < 0n ? -n : n, d * sign);
  return { n: (n * sign) / common, d: (d * sign) / common };
}

/** @param {Exact} a @param {Exact} b @returns {Exact} a + b */
export const plus = (a, b) => ratio(a.n * b.d + b.n * a.d, a.d * b.d);

/** @param {Exact} a @param {Exact} b @returns {Exact} a - b */
export const minus = (a, b) => ratio(a.n * b.d - b.n * a.d, a.d * b.d);

/** @param {Exact} a @param {Exact} b @returns {Exact} a × b */
export const product = (a, b) => ratio(a.n * b.n, a.d * b.d);

/** @param {Exact} a @param {Exact} b not zero @returns {Exact} a ÷ b */
export const quotient = (a, b) => ratio(a.n * b.d, a.d * b.n);

/**
 * Compare two fractions, as for sorting.
 * @param {Exact} a
 * @param {Exact} b
 * @returns {-1 | 0 | 1}
 */
export function compare(a, b) {
  const left = a.n * b.d;
  const right = b.n * a.d;
  if (left === right) return 0;
  return left < right ? -1 : 1;
}

/** @param {Exact} a @param {Exact} b @returns {boolean} a < b */
export const isLess = (a, b) => compare(a, b) < 0;

/** @param {Exact[]} values at least one @returns {Exact} the smallest */
export const least = (values) => values.reduce((a, b) => (isLess(b, a) ? b : a));

/** @param {Exact[]} values at least one @returns {Exact} the largest */
export const most = (values) => values.reduce((a, b) => (isLess(a, b) ? b : a));

/**
 * @param {bigint} denominator
 * @returns {number}
 */
function places(denominator) {
  let rest = denominator;
  let many = 0;
  for (; rest % 10n === 0n; rest /= 10n) many += 1;
  for (; rest % 2n === 0n; rest /= 2n) many += 1;
  for (; rest % 5n === 0n; rest /= 5n) many += 1;
  if (rest !== 1n) throw new RangeError("a fraction without end is no decimal");
  return many;
}

/**
 * @param {bigint} a
 * @param {bigint} b
 * @returns {bigint} greatest common divisor
 */
function divisor(a, b) {
  let [large, small] = [a, b];
  while (small > 0n) [large, small] = [small, large % small];
  return large;
}
