/** @import { Dial, Exact } from "./types.js" */
import { compare, decimal, isLess, minus, number, plus, quotient } from "./exact.js";
import { shown } from "./shown.js";

/** Outputs run from 0.1 to 25 mA over the generators found (domain 4f). */
const DEFAULT = [{ from: "0.1", to: "25", step: "0.1" }];
/* Limits of ours, so that a mistyped table costs no memory. */
const MOST_POSITIONS = 3000n;
const MOST_SEGMENTS = 12;
const MOST_KEPT = 64;

/** @type {Map<string, Dial>} a dial once made never changes */
const made = new Map();

/**
 * Return the dial of a step table, or the default where none is known. A table that
 * cannot be (see `dialProblem`) counts as not known.
 * @param {unknown} segments [{from, to, step}, ...], ascending, decimals as text
 * @returns {Dial}
 */
export function dialOf(segments) {
  const known = dialProblem(segments) === null;
  const table = known ? /** @type {typeof DEFAULT} */ (segments) : DEFAULT;
  const key = JSON.stringify([known, table.map(({ from, to, step }) => [from, to, step])]);
  const ready = made.get(key) ?? make(table, known);
  if (made.size >= MOST_KEPT) made.clear();
  made.set(key, ready);
  return ready;
}

/**
 * Return why a step table cannot be used, as a code, or null: "dial.shape", "dial.order",
 * "dial.size".
 * @param {unknown} segments
 * @returns {string | null}
 */
export function dialProblem(segments) {
  if (!Array.isArray(segments) || segments.length < 1 || segments.length > MOST_SEGMENTS) return "dial.shape";
  let before = exactly("0");
  let count = 0n;
  for (const segment of segments) {
    const numbers = figures(segment);
    if (!numbers) return "dial.shape";
    const [low, high, step] = numbers;
    if (isLess(low, before) || isLess(high, low) || high.n === 0n) return "dial.order";
    before = high;
    count += stepsIn(low, high, step) + (low.n > 0n ? 1n : 0n);
  }
  if (count === 0n) return "dial.order";
  return count > MOST_POSITIONS ? "dial.size" : null;
}

/** @param {Dial} dial @returns {Exact} the lowest output it has */
export const lowest = (dial) => dial.positions[0];

/** @param {Dial} dial @returns {Exact} the highest output it has */
export const highest = (dial) => dial.positions[dial.positions.length - 1];

/** @param {Dial} dial @param {Exact} value @returns {Exact | null} smallest position not below */
export const atOrAbove = (dial, value) => dial.positions.find((x) => compare(x, value) >= 0) ?? null;

/** @param {Dial} dial @param {Exact} value @returns {Exact | null} largest position not above */
export const atOrBelow = (dial, value) => dial.positions.findLast((x) => compare(x, value) <= 0) ?? null;

/** @param {Dial} dial @param {Exact} value @returns {Exact | null} next position above */
export const above = (dial, value) => dial.positions.find((x) => compare(x, value) > 0) ?? null;

/** @param {Dial} dial @param {Exact} value @returns {Exact | null} next position below */
export const below = (dial, value) => dial.positions.findLast((x) => compare(x, value) < 0) ?? null;

/**
 * Return the step the dial counts in at a value, as text for `shown`.
 * @param {Dial} dial
 * @param {Exact} value
 * @returns {string}
 */
export function stepAt(dial, value) {
  const here = dial.steps.find(([, high]) => compare(value, high) <= 0);
  return decimal((here ?? dial.steps[dial.steps.length - 1])[2]);
}

/**
 * Return an output as it is shown beside this dial: "1.0", "20".
 * @param {Dial} dial
 * @param {string} value
 * @returns {string}
 */
export function shownOn(dial, value) {
  const exact = number(value);
  return exact ? shown(value, stepAt(dial, exact)) : value;
}

/**
 * @param {any} segment any: what was typed or sent, judged here
 * @returns {[Exact, Exact, Exact] | null}
 */
function figures(segment) {
  const [low, high, step] = [segment?.from, segment?.to, segment?.step].map(number);
  return !low || !high || !step || low.n < 0n || step.n <= 0n ? null : [low, high, step];
}

/**
 * @param {typeof DEFAULT} table
 * @param {boolean} known
 * @returns {Dial}
 */
function make(table, known) {
  const steps = table.map((segment) => /** @type {[Exact, Exact, Exact]} */ (figures(segment)));
  /** @type {Map<string, Exact>} */
  const found = new Map();
  for (const [low, high, step] of steps) {
    for (let here = low; compare(here, high) <= 0; here = plus(here, step)) {
      // At zero nothing is delivered: no test and no policy ever asks for it.
      if (here.n > 0n) found.set(decimal(here), here);
    }
  }
  return { positions: [...found.values()].sort(compare), steps, known };
}

/**
 * @param {Exact} low
 * @param {Exact} high
 * @param {Exact} step
 * @returns {bigint}
 */
function stepsIn(low, high, step) {
  const steps = quotient(minus(high, low), step);
  return steps.n / steps.d;
}

/**
 * @param {string} text
 * @returns {Exact}
 */
function exactly(text) {
  return /** @type {Exact} */ (number(text));
}
