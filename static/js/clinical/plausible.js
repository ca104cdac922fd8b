/** @import { Exact } from "./types.js" */
import { isLess, ratio } from "./exact.js";
import { endsOf, isObject } from "./rows.js";

/**
 * clinical 14: hard ranges as in the catalogue (a test holds them equal), the field's first unit
 * first. In mg/dL by molar mass, IUPAC 2021: K 39.0983, Mg 24.305 g/mol; in degrees Fahrenheit
 * by definition.
 * @type {{[name: string]: {[unit: string]: [Exact, Exact]}}}
 */
export const HARD_OF = {
  potassium: {
    "mmol/L": [ratio(1n, 2n), ratio(20n, 1n)],
    "mg/dL": [ratio(390983n, 200000n), ratio(390983n, 5000n)],
  },
  magnesium: {
    "mmol/L": [ratio(0n, 1n), ratio(20n, 1n)],
    "mg/dL": [ratio(0n, 1n), ratio(24305n, 500n)],
  },
  temperature: {
    Cel: [ratio(10n, 1n), ratio(47n, 1n)],
    "[degF]": [ratio(50n, 1n), ratio(583n, 5n)],
  },
  inr: { "": [ratio(1n, 2n), ratio(30n, 1n)] },
  platelets: { "10*9/L": [ratio(0n, 1n), ratio(6000n, 1n)] },
  ph: { "": [ratio(6n, 1n), ratio(8n, 1n)] },
  weight: { kg: [ratio(1n, 5n), ratio(700n, 1n)] },
  height: { cm: [ratio(20n, 1n), ratio(275n, 1n)] },
};
/** @type {{[cmp: string]: string}} */
const SIGNS = { ">=": "≥", "<=": "≤" };

/**
 * Return whether a value is used, asked about, or impossible. Nothing is converted. Potassium in
 * mg/dL is always asked about: it lies within the hard range, and is a misprint as a rule.
 * @param {string} name
 * @param {any} value any: a quantity as kept
 * @returns {"" | "asked" | "impossible"}
 */
export function verdict(name, value) {
  const units = HARD_OF[name];
  const unit = isObject(value) && typeof value.unit === "string" ? value.unit : null;
  if (unit === null || "absent" in value || endsOf(value, unit).every((end) => end === null)) return "";
  const fitting = Object.keys(units).filter((one) => fits(value, unit, units[one]));
  if (unit === "" && !("" in units)) {
    // Without a unit the first one is meant, where it alone can be.
    const isMeant = fitting.length === 1 && fitting[0] === Object.keys(units)[0];
    if (isMeant) return "";
    return fitting.length ? "asked" : "impossible";
  }
  if (!Object.hasOwn(units, unit)) return "";
  if (name === "potassium" && unit === "mg/dL") return "asked";
  if (fitting.includes(unit)) return "";
  return fitting.length ? "asked" : "impossible";
}

/**
 * Return the figures of a value as read aloud: "7.3", "> 10", "20 to 30".
 * @param {any} value any: a quantity with figures
 * @returns {string}
 */
export function written(value) {
  if ("low" in value) return `${value.low} to ${value.high ?? ""}`;
  const sign = String(value.cmp ?? "");
  return `${SIGNS[sign] ?? sign} ${value.n}`.trim();
}

/**
 * Tell whether the figures may lie within a range; a comparator is compared.
 * @param {any} value any: a quantity as kept
 * @param {string} unit
 * @param {[Exact, Exact]} hard
 * @returns {boolean}
 */
function fits(value, unit, [least, most]) {
  const [low, high] = endsOf(value, unit);
  const isBelow = high !== null && isLess(high, least);
  return !isBelow && !(low !== null && isLess(most, low));
}
