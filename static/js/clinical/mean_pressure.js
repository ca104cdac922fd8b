/** @import { Exact } from "./types.js" */
import { decimal, isLess, number, ratio } from "./exact.js";
import { point } from "./rows.js";

const UNIT = "mm[Hg]";
/** @type {[Exact, Exact]} the catalogue's, of each of both */
const HARD = [ratio(0n, 1n), ratio(350n, 1n)];

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
  // Twice the mean and a half more, of thirds: (2 low + high) / 3 + 1/2, cut to whole.
  const sixths = 2n * (2n * low.n * high.d + high.n * low.d) + 3n * low.d * high.d;
  return decimal(ratio(sixths / (6n * low.d * high.d), 1n));
}
