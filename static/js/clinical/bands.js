/** @import { Band } from "./types-way.js" */
/** @import { Exact } from "./types.js" */
import { isLess, ratio } from "./exact.js";

const CHAMBERS = ["before_ra", "ra", "rv", "rv_apex"];
/**
 * domain 2c: whole cm at the hub, low and high of each chamber in turn.
 * @type {{[place: string]: [number, number][]}}
 */
const BANDS = {
  "neck right": [[0, 15], [15, 22], [25, 35], [30, 40]],
  "neck left": [[0, 20], [20, 27], [30, 40], [35, 45]],
  "subclavian right": [[0, 10], [10, 22], [20, 35], [28, 40]],
  "subclavian left": [[0, 10], [10, 25], [22, 37], [30, 42]],
  "femoral right": [[0, 30], [30, 40], [40, 50], [45, 60]],
  "femoral left": [[0, 30], [30, 40], [40, 50], [45, 60]],
  "arm right": [[0, 40], [40, 50], [50, 60], [55, 65]],
  "arm left": [[0, 50], [50, 60], [60, 70], [65, 75]],
};

/**
 * Return the bands of a site and side in depth; a child has none. Derived from pulmonary
 * artery catheters; they overlap, and depth alone never proves a place.
 * @param {string} site neck, subclavian, femoral, arm
 * @param {string} side right, left
 * @param {boolean} isAdult
 * @returns {Band[]}
 */
export function bandsFor(site, side, isAdult) {
  const key = `${site} ${side}`;
  const told = isAdult && Object.hasOwn(BANDS, key) ? BANDS[key] : [];
  return told.map(([low_cm, high_cm], n) => ({ chamber: CHAMBERS[n], low_cm, high_cm }));
}

/**
 * Tell whether a depth lies in a band of one of these chambers.
 * @param {Band[]} bands
 * @param {string[]} chambers
 * @param {Exact} depth cm
 * @returns {boolean}
 */
export function isWithin(bands, chambers, depth) {
  return bands.filter((band) => chambers.includes(band.chamber)).some((band) => {
    const [low, high] = [ratio(BigInt(band.low_cm), 1n), ratio(BigInt(band.high_cm), 1n)];
    if (isLess(depth, low) || isLess(high, depth)) return false;
    return band.chamber !== "before_ra" || isLess(depth, high);
  });
}
