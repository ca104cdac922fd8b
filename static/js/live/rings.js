import { decimal, isLess, minus, number, ratio } from "../clinical/exact.js";

/** domain 2e: ring n lies n times 10 cm from the tip. */
const RING_CM = 10n;
/** domain 2e: so many marks tell a ring by their count; farther up it is the kit's own sign. */
const COUNTED = 4;
/** cm: the longest wire that is drawn when its length is not known */
const LONGEST_CM = "130";

/** @typedef {{n: number, cm: string}} Ring cm below the sheath hub, above it negative */

/**
 * Return where a wire's rings lie when its tip is so deep, from the tip on. The wire's own
 * length ends them.
 * @param {string} tipCm
 * @param {string | null} [wireCm] the wire's length; null: not known
 * @returns {Ring[]}
 */
export function ringsAt(tipCm, wireCm = null) {
  const [tip, end] = [number(tipCm), number(wireCm ?? LONGEST_CM)];
  const found = [];
  for (let n = 1n; tip && end && !isLess(end, ratio(n * RING_CM, 1n)); n += 1n) {
    found.push({ n: Number(n), cm: decimal(minus(tip, ratio(n * RING_CM, 1n))) });
  }
  return found;
}

/**
 * Return the first ring that is seen outside the hub, and by how many cm it is out; null
 * where the wire has none there.
 * @param {string} tipCm
 * @param {string | null} [wireCm]
 * @returns {{n: number, out: string, isCounted: boolean} | null}
 */
export function ringOutside(tipCm, wireCm = null) {
  const zero = ratio(0n, 1n);
  for (const { n, cm } of ringsAt(tipCm, wireCm)) {
    const out = minus(zero, /** @type {import("../clinical/types.js").Exact} */ (number(cm)));
    if (!isLess(out, zero)) return { n, out: decimal(out), isCounted: n <= COUNTED };
  }
  return null;
}
