/** @import { Amount, DoseBounds } from "./types-drugs.js" */
/** @import { Found, Told } from "./types-found.js" */
/** @import { Exact, Policy, Size, StandingRow } from "./types.js" */
import { sizeOf } from "./ages.js";
import { HUNDREDTH, NONE, cut, isExact, massMg, raised, weightKg } from "./amounts.js";
import { entriesOf, inOrder } from "./evidence.js";
import { decimal, isLess, least, most, number, plus, product, ratio } from "./exact.js";
import { found } from "./found.js";
import { heads } from "./over.js";
import { remark } from "./remarks.js";
import { rowsOf } from "./rows.js";

const PATH = "indication.drugs_given";
const TRANSPLANT = "indication.caution_heart_transplant";
/** Ways by which little or nothing reaches the blood at once. */
const ELSEWHERE = ["by_mouth", "inhaled", "skin"];
/** Where the rows of children part (clinical 24: under 12, 12 to 17). */
const ADOLESCENT_YEARS = ratio(12n, 1n);

/**
 * Return the remarks on every dose, then on the total.
 * @param {Told} told
 * @returns {Found[]}
 */
export function atropineRemarks(told) {
  const rows = rowsOf(told.fold, PATH).filter(
    ({ value }) => value.drug === "atropine" && !ELSEWHERE.includes(value.route),
  );
  const weight = weightKg(told.fold);
  /** @type {[StandingRow, Amount][]} */
  const doses = rows.map((row) => [row, massMg(row.value.dose, weight)]);
  const bounds = atropineBounds(told, weight.low);
  const singles = doses.flatMap(([row, dose]) => single(row, dose, bounds));
  return [...harm(told, rows), ...singles, ...total(told, doses, bounds)];
}

/**
 * Return the limits for this age. Without an age a child by size has none.
 * @param {Told} told
 * @param {Exact | null} weight kg
 * @returns {DoseBounds}
 */
export function atropineBounds(told, weight) {
  const { limits, policy } = told;
  if (told.age.is_adult) {
    const [low, high, all] = ["single_min", "single_max", "total_max"].map((name) => number(limits[`atropine_${name}_mg`]));
    return { low, high, total: all, keys: [["atropine_single_min_mg", "atropine_single_max_mg"], ["atropine_total_max_mg"]] };
  }
  const size = sizeOf(told.fold);
  const kind = kindOf(size);
  if (!kind) return { low: null, high: null, total: null, keys: [[], []] };
  const names = { one: `atropine_${kind}_single_mg`, all: `atropine_${kind}_total_mg` };
  const values = policy.rows[names.one].value.split(", ").map(number);
  const low = values.length > 1 ? values[0] : null;
  const high = byWeight(policy, weight, low, values[values.length - 1]);
  const keys = [...(weight ? ["atropine_child_mg_per_kg"] : []), names.one];
  return { low, high, total: number(policy.rows[names.all].value), keys: [keys, [names.all]] };
}

/** @param {Size} size @returns {"child" | "adolescent" | ""} */
function kindOf({ years, by_look }) {
  if (years) return isLess(years, ADOLESCENT_YEARS) ? "child" : "adolescent";
  if (["newborn", "infant", "child"].includes(by_look)) return "child";
  return by_look === "adolescent" ? "adolescent" : "";
}

/**
 * Return the highest single dose of a child: by weight, never under the lowest.
 * @param {Policy} policy
 * @param {Exact | null} weight
 * @param {Exact | null} low
 * @param {Exact | null} high
 * @returns {Exact | null}
 */
function byWeight(policy, weight, low, high) {
  const perKg = number(policy.rows.atropine_child_mg_per_kg.value);
  if (!weight || !perKg || !high) return high;
  return most([low ?? NONE, least([high, product(perKg, weight)])]);
}

/** @param {Told} told @param {StandingRow[]} rows @returns {Found[]} */
function harm(told, rows) {
  if (!heads(told.fold, TRANSPLANT).includes("yes")) return [];
  const evidence = entriesOf(told.fold, [TRANSPLANT], rows);
  // Said before the first dose too: afterwards it comes too late.
  return [found(remark("atropine_transplant", "look_now"), rows.length ? PATH : TRANSPLANT, "", evidence)];
}

/**
 * @param {StandingRow} row
 * @param {Amount} dose
 * @param {DoseBounds} bounds
 * @returns {Found[]}
 */
function single(row, dose, { low, high, keys }) {
  const is = (/** @type {string} */ code, /** @type {{[name: string]: string}} */ values) => [
    found(remark(code, "look_again", values, keys[0]), PATH, "", [row.id]),
  ];
  if (dose.low && high && isLess(high, dose.low)) {
    return is("atropine_single_high", { dose: raised(dose.low, HUNDREDTH), high: decimal(high) });
  }
  if (dose.high && low && isLess(dose.high, low)) {
    return is("atropine_single_low", { dose: cut(dose.high, HUNDREDTH), low: decimal(low) });
  }
  return [];
}

/**
 * Compare the sum; a dose that is not stated leaves "at least", and no total.
 * @param {Told} told
 * @param {[StandingRow, Amount][]} doses
 * @param {DoseBounds} bounds
 * @returns {Found[]}
 */
function total(told, doses, bounds) {
  if (!doses.length) return [];
  const sum = doses.reduce((all, [, { low }]) => plus(all, low ?? NONE), NONE);
  const values = { total: raised(sum, HUNDREDTH) };
  const remarks = [];
  if (!doses.every(([, dose]) => isExact(dose))) {
    remarks.push(sum.n > 0n ? remark("atropine_at_least", "look_again", values) : remark("atropine_no_total", "look_again"));
  }
  const isPoisoned = heads(told.fold, "indication.caution_organophosphate").includes("yes");
  if (bounds.total && isLess(bounds.total, sum) && !isPoisoned) {
    remarks.push(remark("atropine_total", "look_again", { ...values, limit: decimal(bounds.total) }, bounds.keys[1]));
  }
  const evidence = inOrder(doses.map(([row]) => row));
  return remarks.map((one) => found(one, PATH, "", evidence));
}
