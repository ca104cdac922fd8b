/** @import { Exact } from "./types.js" */
import { decimal, isLess, minus, number, plus, product, ratio } from "./exact.js";
import { point } from "./rows.js";

const UNIT = "mm[Hg]";
/** @type {[Exact, Exact]} the catalogue's, of each of both */
const HARD = [ratio(0n, 1n), ratio(350n, 1n)];
/** The clinical definition: a third of the pulse pressure. */
const THIRD = ratio(1n, 3n);
/** limits of ours: half of 1 more, cut, is the nearest whole */
const HALF = ratio(1n, 2n);

/**
 * Return the mean in whole mmHg, to the nearest; null unless both are numbers. A range, a
 * comparator, "low", what cannot be, or a diastolic above the systolic gives none.
 * @param {any} systolic any: a quantity as kept
 * @param {any} diastolic any: a quantity as kept
 * @returns {string | null}
 */
export function meanPressure(systolic, diastolic) {
  const [high, low] = [systolic, diastolic].map((one) => number(point(one, UNIT, HARD).n));
  if (!high || !low || isLess(high, low)) return null;
  const raised = plus(plus(low, product(minus(high, low), THIRD)), HALF);
  return decimal(ratio(raised.n / raised.d, 1n));
}
