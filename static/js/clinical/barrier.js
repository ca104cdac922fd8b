/** @import { Fold } from "../types.js" */
/** @import { Found, Told } from "./types-found.js" */
import { amount } from "./amounts.js";
import { wholeMonths } from "./birth.js";
import { entriesOf } from "./evidence.js";
import { compare, isLess, number, ratio } from "./exact.js";
import { found } from "./found.js";
import { hasDied, heads, isOver } from "./over.js";
import { remark } from "./remarks.js";
import { momentMs, oneAnswer, rowsOf } from "./rows.js";
import { elapsed, secondsOf } from "./shown.js";

const ITEMS = ["hands", "cap", "mask", "gown", "gloves", "full_body_drape", "skin_dried"].map(
  (name) => `approach.barrier_${name}`,
);
const PREP = "approach.skin_prep";
const AGE = "patient.estimated_age";
const HOUR_MS = 3_600_000n;
const DUE = "emergency_line_replace_h";
/** clinical 21: preterm, born before 37 weeks. */
const TERM_WEEKS = ratio(37n, 1n);
/** clinical 21: younger than 2 months. */
const YOUNG_MONTHS = ratio(2n, 1n);
/** Two months of the calendar have at most 62 days. */
const YOUNG_DAYS = ratio(62n, 1n);
/** Gestation as the catalogue's hard range. */
const HARD_WEEKS = [ratio(20n, 1n), ratio(44n, 1n)];

/**
 * Return the line to be replaced, then chlorhexidine where it asks for care.
 * @param {Told} told
 * @returns {Found[]}
 */
export function barrierRemarks(told) {
  return [...replace(told), ...chlorhexidine(told)];
}

/** @param {Told} told @returns {Found[]} */
function replace(told) {
  const { fold, now_ms, wires } = told;
  const missing = ITEMS.filter((path) => heads(fold, path).includes("no"));
  const hours = number(told.limits[DUE]);
  if (!missing.length || !isEmergency(fold) || !hours) return [];
  const evidence = entriesOf(fold, missing);
  const late = now_ms === null ? null : now_ms - placedMs(fold, evidence);
  const isLate = late !== null && BigInt(late) * hours.d > hours.n * HOUR_MS;
  const values = { hours: told.limits[DUE], ...(isLate ? { elapsed: elapsed(secondsOf(late)) } : {}) };
  const isOut = wires.length > 0 && wires.every((wire) => isOver(fold, wire));
  const one = remark(isLate ? "barrier_overdue" : "barrier_not_full", "look_again", values, [DUE], "replace_line");
  return [found(one, missing[0], "", evidence, !isOut && !hasDied(fold))];
}

/** @param {Fold} fold @returns {boolean} */
function isEmergency(fold) {
  if (heads(fold, "indication.urgency").includes("emergency")) return true;
  return heads(fold, "consent.basis").includes("emergency_exception") || rowsOf(fold, "indication.arrest").length > 0;
}

/** Return when the vein was punctured, else when the first "no" was entered. @param {Fold} fold @param {string[]} evidence */
function placedMs(fold, evidence) {
  const known = heads(fold, "approach.first_puncture").map(momentMs).filter((ms) => ms !== null);
  return Math.min(...(known.length ? known : evidence.map((id) => fold.entries[id].time_ms)));
}

/** @param {Told} told @returns {Found[]} */
function chlorhexidine({ fold }) {
  const isUsed = heads(fold, PREP).some((one) => typeof one === "string" && one.startsWith("chlorhexidine"));
  const why = isUsed ? young(fold) : null;
  return why ? [found(remark(why[0], "look_again"), PREP, "", entriesOf(fold, [PREP, why[1]]))] : [];
}

/**
 * Return the code of why care is asked, and the field that says so.
 * @param {Fold} fold
 * @returns {[string, string] | null}
 */
function young(fold) {
  if (isPreterm(oneAnswer(fold, "patient.gestation"))) return ["chlorhexidine_preterm", "patient.gestation"];
  const months = wholeMonths(fold);
  if (months) return isLess(months, YOUNG_MONTHS) ? ["chlorhexidine_young", "patient.birth_date"] : null;
  const days = amount(oneAnswer(fold, AGE), "d").low;
  const hours = amount(oneAnswer(fold, AGE), "h").low;
  if (hours || (days && isLess(days, YOUNG_DAYS))) return ["chlorhexidine_young", AGE];
  return oneAnswer(fold, "patient.age_class") === "newborn" ? ["chlorhexidine_young", "patient.age_class"] : null;
}

/**
 * Tell whether a gestation may be below term; of a range its lower end counts.
 * @param {any} value any: a quantity as kept
 * @returns {boolean}
 */
function isPreterm(value) {
  const weeks = amount(value, "wk");
  const first = weeks.low ?? weeks.high;
  if (!first || isLess(first, HARD_WEEKS[0]) || isLess(HARD_WEEKS[1], first)) return false;
  return isLess(first, TERM_WEEKS) || (!weeks.low && compare(first, TERM_WEEKS) === 0);
}
