/** @import { Exact } from "./types.js" */
import { isLess } from "./exact.js";
import { HARD, endsOf } from "./rows.js";

/**
 * Return what a value is not below and not above; null where not sure. An end beyond the
 * hard range makes the whole value one that says nothing.
 * @param {any} value any: a quantity as kept
 * @param {string} unit
 * @returns {[Exact | null, Exact | null]}
 */
export function certainEnds(value, unit) {
  const [low, high] = HARD[unit];
  const found = endsOf(value, unit);
  const isOut = found.some((end) => end && (isLess(end, low) || isLess(high, end)));
  return isOut ? [null, null] : found;
}
