/** @import { Fold } from "../types.js" */
/** @import { Amount, AnaestheticSum } from "./types-drugs.js" */
/** @import { Told } from "./types-found.js" */
/** @import { Exact, StandingRow } from "./types.js" */
import { sizeOf } from "./ages.js";
import {
  HUNDREDTH, NONE, UNKNOWN, amount, cut, isExact, massMg, raised, timesOver, weightKg,
} from "./amounts.js";
import { inOrder } from "./evidence.js";
import { decimal, isLess, least, minus, number, plus, product, quotient, ratio } from "./exact.js";
import { heads } from "./over.js";
import { momentMs, rowsOf } from "./rows.js";
import { truncated } from "./shown.js";

export const PATH = "approach.local_anaesthetic";
export const DRUGS = "indication.drugs_given";
/** Definition (domain 7a): 1 % is 10 mg in each mL. */
const MG_ML_PER_PERCENT = ratio(10n, 1n);
const MINUTE_MS = 60_000n;
/** The catalogue's. */
const HARD_PERCENT = ratio(100n, 1n);
/** An age above which labels reduce the dose (clinical 16). */
const OLD_YEARS = ratio(70n, 1n);
/** @type {[string, Exact][]} */
const RATES = [
  ["mg/min", ratio(1n, 1n)],
  ["mg/h", ratio(1n, 60n)],
];

/**
 * Return what was given of all lidocaine and what is left. Plain and adrenaline: the plain limit.
 * @param {Told} told
 * @returns {AnaestheticSum}
 */
export function anaestheticSum(told) {
  const { fold } = told;
  const local = rowsOf(fold, PATH);
  const skin = local.filter((row) => row.value.agent === "lidocaine");
  const vein = rowsOf(fold, DRUGS).filter((row) => row.value.drug === "lidocaine");
  const weight = weightKg(fold);
  // Of a weight told as a range the lower end: the limit is never too high.
  const lightest = weight.low ?? weight.high;
  const doses = [...skin.map(localMg), ...vein.map((row) => veinMg(row, weight))];
  const given = doses.reduce((sum, { low }) => plus(sum, low ?? NONE), NONE);
  const at_least = !doses.every(isExact);
  const adrenaline = skin.length > 0 && vein.length === 0 && skin.every((row) => row.value.with_adrenaline === "yes");
  const found = limitOf(told, adrenaline, lightest);
  const { limit } = found;
  const strength = strengthOf(skin);
  const is_over = limit !== null && isLess(limit, given);
  const hasLeft = limit && strength && !is_over && !at_least;
  return {
    given_mg: raised(given),
    at_least,
    limit_mg: limit && cut(limit),
    left_ml: hasLeft ? truncated(quotient(minus(limit, given), product(strength, MG_ML_PER_PERCENT))) : null,
    strength: strength ? decimal(strength) : "",
    fraction: limit && limit.n > 0n ? raised(quotient(given, limit), HUNDREDTH) : null,
    is_over,
    weight_known: lightest !== null,
    limits: found.keys,
    reduce: reduceOf(fold),
    others: othersOf(local),
    ids: inOrder([...skin, ...vein]),
  };
}

/** @param {StandingRow} row @returns {Amount} */
function localMg(row) {
  const volume = amount(row.value.volume, "mL");
  const strength = amount(row.value.strength, "%");
  if (!volume.low || !strength.low || isLess(HARD_PERCENT, strength.low)) return UNKNOWN;
  const low = product(product(volume.low, strength.low), MG_ML_PER_PERCENT);
  return { low, high: isExact(volume) && isExact(strength) ? low : null };
}

/**
 * Return a dose into the vein; of an infusion, rate by time once it is stopped.
 * @param {StandingRow} row
 * @param {Amount} weight
 * @returns {Amount}
 */
function veinMg(row, weight) {
  const value = row.value.dose;
  for (const [unit, perMin] of RATES) {
    const rate = amount(value, unit);
    if (!rate.low) continue;
    const stopped = momentMs(row.value.stopped);
    if (stopped === null || stopped < row.time_ms) return UNKNOWN;
    return timesOver(rate, product(perMin, ratio(BigInt(stopped - row.time_ms), MINUTE_MS)));
  }
  return massMg(value, weight);
}

/** Return the strength given last, in %, where it is one number. @param {StandingRow[]} skin */
function strengthOf(skin) {
  const told = skin.map((row) => amount(row.value.strength, "%"));
  const last = told.filter((one) => isExact(one) && one.low && one.low.n > 0n).at(-1)?.low ?? null;
  return last && !isLess(HARD_PERCENT, last) ? last : null;
}

/**
 * @param {Told} told
 * @param {boolean} adrenaline
 * @param {Exact | null} weight
 * @returns {{limit: Exact | null, keys: string[]}}
 */
function limitOf(told, adrenaline, weight) {
  const kind = adrenaline ? "adrenaline" : "plain";
  const keys = [`lidocaine_${kind}_mg_per_kg`, `lidocaine_${kind}_cap_mg`];
  const [perKg, cap] = keys.map((key) => number(told.limits[key]));
  if (!perKg || !cap) return { limit: null, keys: [] };
  if (weight) return { limit: least([product(perKg, weight), cap]), keys };
  // The cap is that of an adult: without a weight a child has no limit here.
  return told.age.is_adult ? { limit: cap, keys: keys.slice(1) } : { limit: null, keys: [] };
}

/** @param {Fold} fold @returns {string[]} */
function reduceOf(fold) {
  const background = rowsOf(fold, "indication.background").filter((row) => row.value.certainty !== "ruled_out");
  const told = new Set(background.map((row) => row.value.condition));
  for (const one of heads(fold, "indication.compromise").filter(Array.isArray).flat()) told.add(one);
  const { years } = sizeOf(fold);
  /** @type {[string, boolean][]} */
  const reasons = [
    ["low_output", told.has("acute_heart_failure") || told.has("heart_failure")],
    ["liver_disease", told.has("liver_disease")],
    ["old", years !== null && isLess(OLD_YEARS, years)],
    ["shock", told.has("shock")],
  ];
  return reasons.filter(([, holds]) => holds).map(([code]) => code);
}

/** Return the other agents in the order given; "other" for one in words. @param {StandingRow[]} local */
function othersOf(local) {
  const codes = local.map(({ value }) => (typeof value.agent === "string" ? value.agent : "other"));
  return [...new Set(codes.filter((code) => code !== "lidocaine"))];
}
