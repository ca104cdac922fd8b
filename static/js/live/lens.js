/** Depths on the lens, from the shallowest on; the wire goes deeper from where it is. */
export const LENS_SIZE = 7;
/** cm shallower than the last depth that the lens begins. */
const BEFORE = 2;
/** cm: the lens ends here; a figure of three places is told on the sheet */
const LAST_CM = 99;
/** cm: where it begins when neither a depth nor a site is known */
const PLAIN_CM = 10;

/**
 * Return the first depth of the lens, whole cm: its neighbours are where the next reading
 * is expected.
 * @param {string | null} lastCm the depth read last at the hub
 * @param {import("../clinical/types-way.js").Band[]} bands of the way in
 * @returns {number}
 */
export function lensFrom(lastCm, bands) {
  const atrium = bands.find(({ chamber }) => chamber === "ra");
  const centre = lastCm === null ? (atrium?.low_cm ?? PLAIN_CM + BEFORE) : Math.floor(Number(lastCm));
  return Math.max(0, Math.min(centre - BEFORE, LAST_CM + 1 - LENS_SIZE));
}

/**
 * Return the depths on the lens, whole cm as they are read.
 * @param {number} from
 * @returns {string[]}
 */
export function lensDepths(from) {
  return Array.from({ length: LENS_SIZE }, (_, at) => String(from + at));
}
