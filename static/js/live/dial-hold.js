/** @import { Dial } from "../clinical/types.js" */
import { above, below } from "../clinical/dial.js";
import { decimal, number } from "../clinical/exact.js";

/** So many steps of the dial first; only who goes on holding goes by halves. */
const SINGLE_STEPS = 5;
const BY_HALVES = /^\d+(\.50*)?$/;

/**
 * Return the value that a held key leads to next: the neighbour on the dial, and after some of
 * them the next whole or half on it. Null where the dial ends.
 * @param {Dial} dial
 * @param {string} value exact decimal
 * @param {"up" | "down"} way
 * @param {number} count of steps that this hold made before
 * @returns {string | null}
 */
export function heldValue(dial, value, way, count) {
  const next = way === "up" ? above : below;
  const from = number(value);
  if (!from) return null;
  let found = next(dial, from);
  if (count < SINGLE_STEPS || !found) return found ? decimal(found) : null;
  for (let further = next(dial, found); further && !BY_HALVES.test(decimal(found)); further = next(dial, found)) found = further;
  return decimal(found);
}
