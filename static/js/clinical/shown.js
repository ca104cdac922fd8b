/** @import { Exact } from "./types.js" */
import { compare, decimal, number, quotient, ratio } from "./exact.js";

const TEN = ratio(10n, 1n);

/**
 * Return a decimal as it is shown beside a dial of that step: below 10 with as many
 * decimals as the step has, from 10 with none; a finer value keeps all its own.
 * What is no number comes back as it is.
 * @param {string} value
 * @param {string} [step] "" for whole ones
 * @returns {string}
 */
export function shown(value, step = "") {
  const exact = number(value);
  if (!exact) return value;
  const size = ratio(exact.n < 0n ? -exact.n : exact.n, exact.d);
  return padded(decimal(exact), compare(size, TEN) < 0 ? places(step) : 0);
}

/**
 * Return a fraction cut, never rounded, to the step: 1.96 gives "1.9".
 * @param {Exact} value
 * @param {string} [step]
 * @returns {string}
 */
export function truncated(value, step = "0.1") {
  const known = number(step);
  const grid = known && known.n > 0n ? known : ratio(1n, 10n);
  const size = ratio(value.n < 0n ? -value.n : value.n, value.d);
  const steps = quotient(size, grid);
  const cut = steps.n / steps.d;
  const text = padded(decimal(ratio(cut * grid.n, grid.d)), places(step));
  return value.n < 0n && cut > 0n ? `-${text}` : text;
}

/**
 * Return a margin in words: "1.9 ×".
 * @param {Exact} value
 * @returns {string}
 */
export function times(value) {
  return `${truncated(value)} ×`;
}

/**
 * Return whole seconds of a span in milliseconds, also where it runs backwards.
 * @param {number} ms whole
 * @returns {number}
 */
export function secondsOf(ms) {
  return (ms - (((ms % 1000) + 1000) % 1000)) / 1000;
}

/**
 * Return an elapsed time: "40 s", "14 min", "1 h 45 min"; never with a colon. Cut to
 * whole minutes. A time that runs backwards is "unknown".
 * @param {number} seconds whole
 * @returns {string}
 */
export function elapsed(seconds) {
  const whole = BigInt(seconds);
  if (whole < 0n) return "unknown";
  if (whole < 60n) return `${whole} s`;
  const minutes = whole / 60n;
  return minutes <= 99n ? `${minutes} min` : `${minutes / 60n} h ${minutes % 60n} min`;
}

/**
 * Return the age of a standing number: as `elapsed`, but "just now" and days.
 * @param {number} seconds whole
 * @returns {string}
 */
export function age(seconds) {
  const whole = BigInt(seconds);
  if (whole >= 0n && whole < 20n) return "just now";
  return whole >= 172800n ? `${whole / 86400n} d` : elapsed(seconds);
}

/**
 * @param {string} step
 * @returns {number}
 */
function places(step) {
  const exact = number(step);
  return exact ? (decimal(exact).split(".")[1] ?? "").length : 0;
}

/**
 * @param {string} text
 * @param {number} many
 * @returns {string}
 */
function padded(text, many) {
  const [whole, part = ""] = text.split(".");
  const filled = part.padEnd(many, "0");
  return filled ? `${whole}.${filled}` : whole;
}
