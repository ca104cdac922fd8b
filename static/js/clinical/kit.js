/** @import { Limits } from "./types.js" */
import { isLess, minus, number, plus, product, quotient, ratio } from "./exact.js";

export const LEAK_KEY = "sheath_over_wire_max_fr";
/** domain 2e: French is three times the outer diameter in mm, by definition. */
const FR_PER_MM = ratio(3n, 1n);
/** How it is shown, clinical 2: to a hundredth. */
const STEPS_PER_MM = 100n;
/** To round, clinical 2. */
const HALF = ratio(1n, 2n);
const NONE = ratio(0n, 1n);

/**
 * Return an outer diameter, mm, to 0.01: "5" gives "1.67", "6" "2.00".
 * @param {string | null} fr
 * @returns {string | null}
 */
export function outerDiameterMm(fr) {
  const size = number(fr);
  if (!size || isLess(size, NONE)) return null;
  const { n, d } = plus(product(quotient(size, FR_PER_MM), ratio(STEPS_PER_MM, 1n)), HALF);
  const part = String(STEPS_PER_MM + ((n / d) % STEPS_PER_MM)).slice(1);
  return `${n / d / STEPS_PER_MM}.${part}`;
}

/**
 * Return "fits", "leaks" or "does_not_pass"; "" where a size is not known.
 * @param {string | null} sheathFr
 * @param {string | null} wireFr
 * @param {Limits} limits
 * @returns {"fits" | "leaks" | "does_not_pass" | ""}
 */
export function kitFit(sheathFr, wireFr, limits) {
  const [sheath, wire, widest] = [number(sheathFr), number(wireFr), number(limits[LEAK_KEY])];
  if (!sheath || !wire) return "";
  if (isLess(sheath, wire)) return "does_not_pass";
  if (!widest) return "";
  return isLess(widest, minus(sheath, wire)) ? "leaks" : "fits";
}
