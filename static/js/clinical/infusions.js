/** @import { Amount } from "./types-drugs.js" */
/** @import { Found, Told } from "./types-found.js" */
/** @import { Exact, Remark, StandingRow } from "./types.js" */
import { HUNDREDTH, MG_PER, UNKNOWN, amount, cut, inEachKg, isKnown, raised, timesOver, weightKg } from "./amounts.js";
import { decimal, isLess, number, product, quotient, ratio } from "./exact.js";
import { found } from "./found.js";
import { remark } from "./remarks.js";
import { rowsOf } from "./rows.js";

const PATH = "indication.drugs_given";
/**
 * domain 1c: dopamine, adrenaline and isoprenaline found-2, dobutamine from memory.
 * @type {{[drug: string]: {[unit: string]: [Exact, Exact]}}}
 */
const RANGES = {
  dopamine: { "ug/kg/min": [ratio(5n, 1n), ratio(20n, 1n)] },
  adrenaline: {
    "ug/min": [ratio(2n, 1n), ratio(10n, 1n)],
    "ug/kg/min": [ratio(1n, 10n), ratio(1n, 2n)],
  },
  isoprenaline: { "ug/min": [ratio(1n, 1n), ratio(20n, 1n)] },
  dobutamine: { "ug/kg/min": [ratio(2n, 1n), ratio(20n, 1n)] },
};
/** @type {{[unit: string]: string}} */
const SHOWN = { "ug/min": "µg/min", "ug/kg/min": "µg/kg/min" };
const UG_PER_MG = ratio(1000n, 1n);
/** @type {[string, Exact][]} */
const UG_PER_MIN = [
  ["ug/min", ratio(1n, 1n)],
  ["mg/min", UG_PER_MG],
  ["mg/h", ratio(1000n, 60n)],
];
const HOUR_MIN = ratio(60n, 1n);
/** "400 mg in 250 mL", "80 ug/mL": the whole text, or it states no concentration. */
const CONCENTRATION = /^ *([0-9.]{1,12}) ?(ug|mcg|µg|mg|g) ?(?:\/|in|per) ?(?:([0-9.]{1,12}) ?)?m[Ll] *$/;

/**
 * Return each infusion outside its range, or in mL/h without a concentration; adults only.
 * @param {Told} told
 * @returns {Found[]}
 */
export function infusionRemarks(told) {
  if (!told.age.is_adult) return [];
  const weight = weightKg(told.fold);
  return rowsOf(told.fold, PATH).flatMap((row) => {
    const { drug } = row.value;
    const one = typeof drug === "string" && Object.hasOwn(RANGES, drug) ? remarkOn(row, drug, weight) : null;
    return one ? [found(one, PATH, "", [row.id])] : [];
  });
}

/**
 * Return a stated concentration in µg/mL, null where the text states none.
 * @param {unknown} text
 * @returns {Exact | null}
 */
export function concentration(text) {
  const match = typeof text === "string" ? CONCENTRATION.exec(text) : null;
  if (!match) return null;
  const mass = number(match[1]);
  const volume = number(match[3] ?? "1");
  const unit = Object.hasOwn(MG_PER, match[2]) ? match[2] : "ug";
  if (!mass || !volume || volume.n === 0n) return null;
  return quotient(product(product(mass, MG_PER[unit]), UG_PER_MG), volume);
}

/**
 * @param {StandingRow} row
 * @param {string} drug
 * @param {Amount} weight
 * @returns {Remark | null}
 */
function remarkOn(row, drug, weight) {
  const stated = concentration(row.value.which);
  if (amount(row.value.dose, "mL/h").low && !(stated && stated.n > 0n)) return remark("infusion_no_strength", "look_again");
  for (const [unit, [low, high]] of Object.entries(RANGES[drug])) {
    const dose = doseIn(row, unit, weight);
    if (!isKnown(dose)) continue;
    const isOver = dose.low !== null && isLess(high, dose.low);
    const isUnder = dose.high !== null && isLess(dose.high, low);
    if (!isOver && !isUnder) return null;
    const shown = dose.low && isOver ? raised(dose.low, HUNDREDTH) : dose.high && cut(dose.high, HUNDREDTH);
    const values = { dose: shown ?? "", low: decimal(low), high: decimal(high), unit: SHOWN[unit] };
    return remark(`infusion_${drug}`, "look_again", values);
  }
  return null;
}

/**
 * Return the dose in a unit; said so, or worked out per kg or from mL/h.
 * @param {StandingRow} row
 * @param {string} unit
 * @param {Amount} weight
 * @returns {Amount}
 */
function doseIn(row, unit, weight) {
  const said = amount(row.value.dose, unit);
  if (isKnown(said)) return said;
  const found = perMin(row);
  if (unit === "ug/min") return found;
  return inEachKg(found, weight);
}

/** @param {StandingRow} row @returns {Amount} µg/min */
function perMin({ value }) {
  for (const [unit, factor] of UG_PER_MIN) {
    const said = amount(value.dose, unit);
    if (isKnown(said)) return timesOver(said, factor);
  }
  const stated = concentration(value.which);
  return stated ? timesOver(amount(value.dose, "mL/h"), quotient(stated, HOUR_MIN)) : UNKNOWN;
}
