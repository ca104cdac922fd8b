/** @import { Fold } from "../types.js" */
/** @import { Amount, DrugTotal } from "./types-drugs.js" */
/** @import { StandingRow } from "./types.js" */
import { HUNDREDTH, MG_PER, NONE, UNKNOWN, amount, isExact, massMg, raised, weightKg } from "./amounts.js";
import { inOrder } from "./evidence.js";
import { plus } from "./exact.js";
import { isObject, rowsOf } from "./rows.js";

/** Amounts of the catalogue that add up in their own unit; rates by time do not. */
const OWN_UNITS = ["mL", "L", "mmol", "meq", "[IU]"];

/**
 * Return what was given of each drug in all, in the order first given; drugs named in
 * words are left out.
 * @param {Fold} fold
 * @returns {DrugTotal[]}
 */
export function drugTotals(fold) {
  const weight = weightKg(fold);
  const rows = rowsOf(fold, "indication.drugs_given").filter((row) => typeof row.value.drug === "string");
  const drugs = [...new Set(rows.map((row) => row.value.drug))];
  return drugs.map((drug) => totalOf(drug, rows.filter((row) => row.value.drug === drug), weight));
}

/**
 * @param {string} drug
 * @param {StandingRow[]} rows
 * @param {Amount} weight
 * @returns {DrugTotal}
 */
function totalOf(drug, rows, weight) {
  const told = rows.map((row) => dose(row.value.dose, weight));
  const unit = told.find(([, one]) => one.low)?.[0] ?? "";
  const added = told.filter(([own, one]) => own === unit && one.low).map(([, one]) => one);
  const sum = added.reduce((all, { low }) => plus(all, low ?? NONE), NONE);
  const isWhole = added.length === rows.length && added.every(isExact);
  const total = added.length ? raised(sum, HUNDREDTH) : null;
  return { drug, total, unit, at_least: !isWhole, doses: rows.length, ids: inOrder(rows) };
}

/**
 * @param {any} value any: a quantity as kept
 * @param {Amount} weight
 * @returns {[string, Amount]} its unit with the amount
 */
function dose(value, weight) {
  const unit = isObject(value) && typeof value.unit === "string" ? value.unit : "";
  if (OWN_UNITS.includes(unit)) return [unit, amount(value, unit)];
  return Object.hasOwn(MG_PER, unit.replace(/\/kg$/, "")) ? ["mg", massMg(value, weight)] : ["", UNKNOWN];
}
