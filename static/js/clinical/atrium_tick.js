/** @import { Exact } from "./types.js" */
import { decimal, isLess, minus, number, product, ratio } from "./exact.js";
import { HARD_HEIGHT } from "./rows.js";

/** domain 2d: a tenth of the height, less so many cm; the two ways in that have one. */
const PART = ratio(1n, 10n);
/** domain 2d: for adults, by site. @type {{[site: string]: Exact}} */
const ADULT_LESS = { neck: ratio(0n, 1n), subclavian: ratio(2n, 1n) };
/** domain 2d: for children up to the line, and above it. @type {Exact[]} */
const CHILD_LESS = [ratio(1n, 1n), ratio(2n, 1n)];
/** domain 2d: a height, cm. */
const CHILD_LINE_CM = ratio(100n, 1n);

/**
 * Return the depth of the tick at the start of the atrium, cm, or null: left sites, femoral
 * and arm have none. Nothing else on the ruler moves with height.
 * @param {string | null} heightCm
 * @param {string} site neck, subclavian, femoral, arm
 * @param {string} side
 * @param {boolean} isAdult
 * @returns {string | null}
 */
export function atriumTickCm(heightCm, site, side, isAdult) {
  const height = number(heightCm);
  const [low, high] = HARD_HEIGHT;
  if (!height || side !== "right" || isLess(height, low) || isLess(high, height)) return null;
  if (!Object.hasOwn(ADULT_LESS, site)) return null;
  const childLess = isLess(CHILD_LINE_CM, height) ? CHILD_LESS[1] : CHILD_LESS[0];
  return decimal(minus(product(height, PART), isAdult ? ADULT_LESS[site] : childLess));
}

/**
 * Return the code of the formula a tick comes from, "" without a tick; its words stand under
 * `clinical.tick.<code>`.
 * @param {string | null} heightCm
 * @param {string} site
 * @param {string} side
 * @param {boolean} isAdult
 * @returns {string}
 */
export function tickFormula(heightCm, site, side, isAdult) {
  if (atriumTickCm(heightCm, site, side, isAdult) === null) return "";
  if (isAdult) return `adult_${site}`;
  const height = number(heightCm);
  return height && isLess(CHILD_LINE_CM, height) ? "child_tall" : "child_short";
}
