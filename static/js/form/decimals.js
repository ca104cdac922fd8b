/** Exact decimals as text: canonical form, and as fractions of big integers. */

// Fifteen digits on either side of the point: a bound on what text can make us compute with.
const CANONICAL = /^(?:-?(?:0|[1-9][0-9]{0,14})\.[0-9]{0,14}[1-9]|-?[1-9][0-9]{0,14}|0)$/;
const TYPED = /^([+-]?)(?:([0-9]{1,15})(?:[.,]([0-9]{1,15}))?|[.,]([0-9]{1,15}))$/;
// "1,250" is 1.25 to one reader and 1250 to the next; nobody may guess which.
const THOUSANDS = /^[+-]?[1-9][0-9]{0,2},[0-9]{3}$/;

/** @typedef {import("../types-form.js").Fraction} Fraction */

/**
 * Return a typed decimal in its one form, or null when it is not one: "1,5", "+1.50",
 * ".8" give "1.5", "1.5", "0.8"; "1e3", "5.", "1 000" and "1,250" are not read.
 * @param {string} text
 * @returns {string | null}
 */
export function canonical(text) {
  const match = TYPED.exec(text);
  if (!match || THOUSANDS.test(text)) return null;
  const whole = (match[2] ?? "0").replace(/^0+(?=.)/, "");
  const part = (match[3] ?? match[4] ?? "").replace(/0+$/, "");
  const number = part ? `${whole}.${part}` : whole;
  return match[1] === "-" && number !== "0" ? `-${number}` : number;
}

/**
 * Tell whether `text` is a decimal in its one form: no exponent, no "-0".
 * @param {unknown} text
 * @returns {text is string}
 */
export function isCanonical(text) {
  return typeof text === "string" && CANONICAL.test(text);
}

/**
 * Return a canonical decimal as a fraction.
 * @param {string} number
 * @returns {Fraction}
 */
export function exact(number) {
  const [whole = "0", part = ""] = number.split(".");
  return { num: BigInt(whole + part), den: 10n ** BigInt(part.length) };
}

/**
 * Return below 0, 0 or above 0 as `a` is less than, equal to or greater than `b`.
 * @param {Fraction} a
 * @param {Fraction} b
 * @returns {number}
 */
export function compare(a, b) {
  const difference = a.num * b.den - b.num * a.den;
  return difference < 0n ? -1 : Number(difference > 0n);
}

/**
 * Return number * factor + offset.
 * @param {Fraction} number
 * @param {Fraction} factor
 * @param {Fraction} offset
 * @returns {Fraction}
 */
export function scaled(number, factor, offset) {
  const num = number.num * factor.num;
  const den = number.den * factor.den;
  return { num: num * offset.den + offset.num * den, den: den * offset.den };
}

/**
 * Tell whether `number` is a whole multiple of `step`.
 * @param {string} number
 * @param {string} step
 * @returns {boolean}
 */
export function isMultiple(number, step) {
  const a = exact(number);
  const b = exact(step);
  return (a.num * b.den) % (a.den * b.num) === 0n;
}
