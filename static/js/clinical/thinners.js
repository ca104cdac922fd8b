/** @import { Fold } from "../types.js" */
/** @import { Found, Told } from "./types-found.js" */
import { entriesOf, inOrder, lastMs } from "./evidence.js";
import { number } from "./exact.js";
import { found } from "./found.js";
import { heads } from "./over.js";
import { remark } from "./remarks.js";
import { isObject, momentMs, rowsOf } from "./rows.js";

const PATH = "patient.blood_thinner";
const TAKES = "patient.on_blood_thinner";
const DRUGS = "indication.drugs_given";
const LYSIS = "indication.caution_thrombolysis";
const LYSIS_AT = "indication.thrombolysis_at";
const HOUR_MS = 3_600_000n;
/** These keep platelets apart: neither INR nor last dose decides the vein. */
const NO_ANTICOAGULANT = ["aspirin", "clopidogrel", "prasugrel", "ticagrelor"];
/** domain 1e: a compressible site is femoral, jugular or brachial. */
const COMPRESSIBLE = ["internal_jugular", "femoral", "arm"];

/**
 * Return what is open about anticoagulation, then about thrombolysis.
 * @param {Told} told
 * @returns {Found[]}
 */
export function thinnerRemarks(told) {
  return [...anticoagulants(told), ...thrombolysis(told)];
}

/** @param {Told} told @returns {Found[]} */
function anticoagulants({ fold }) {
  const all = rowsOf(fold, PATH);
  const rows = all.filter((row) => !NO_ANTICOAGULANT.includes(row.value.drug));
  const warfarin = rows.filter((row) => row.value.drug === "warfarin");
  const undated = rows.filter((row) => row.value.drug !== "warfarin" && !isTold(row.value.last_dose));
  const is = (/** @type {string} */ code, /** @type {string} */ path, /** @type {string[]} */ ids) =>
    found(remark(code, "look_again", {}, [], "compressible"), path, "", ids);
  return [
    ...(warfarin.length && !hasInr(fold) ? [is("warfarin_no_inr", PATH, inOrder(warfarin))] : []),
    ...(undated.length ? [is("thinner_no_last_dose", PATH, inOrder(undated))] : []),
    ...(!all.length && heads(fold, TAKES).includes("yes") ? [is("thinner_not_named", TAKES, entriesOf(fold, [TAKES]))] : []),
  ];
}

/**
 * @param {any} value any: as kept
 * @returns {boolean}
 */
function isTold(value) {
  return isObject(value) && !("absent" in value);
}

/** @param {Fold} fold @returns {boolean} */
function hasInr(fold) {
  return rowsOf(fold, "patient.laboratory").some((row) => isTold(row.value.inr));
}

/**
 * Say that thrombolysis was recent, until a vein that can be pressed is chosen.
 * @param {Told} told
 * @returns {Found[]}
 */
function thrombolysis(told) {
  const { fold } = told;
  const rows = rowsOf(fold, DRUGS).filter((row) => row.value.drug === "thrombolytic");
  const isAnswered = heads(fold, LYSIS).includes("yes");
  if ((!rows.length && !isAnswered) || isCompressible(fold)) return [];
  const moments = heads(fold, LYSIS_AT).map(momentMs).filter((ms) => ms !== null);
  const times = [...rows.map((row) => row.time_ms), ...moments];
  const path = isAnswered ? LYSIS : DRUGS;
  const evidence = entriesOf(fold, [LYSIS, LYSIS_AT], rows);
  if (!times.length) return [found(remark("thrombolysis_when", "look_again", {}, [], "compressible"), path, "", evidence)];
  const hours = number(told.limits.thrombolysis_recent_h);
  const since = chosenMs(told) - Math.max(...times);
  if (!hours || BigInt(since) * hours.d >= hours.n * HOUR_MS) return [];
  // A dose entered late has no time of its own; of one to come no hours can be told.
  const isLater = since < 0;
  const code = isLater ? "thrombolysis_later" : "thrombolysis_recent";
  /** @type {{[name: string]: string}} */
  const values = isLater ? {} : { hours: String(BigInt(since) / HOUR_MS) };
  const one = remark(code, "look_again", values, ["thrombolysis_recent_h"], "compressible");
  return [found(one, path, "", evidence)];
}

/** Return when the vein was punctured, else now, else the record's last entry. @param {Told} told @returns {number} */
function chosenMs({ fold, now_ms }) {
  const punctured = heads(fold, "approach.first_puncture").map(momentMs).filter((ms) => ms !== null);
  if (punctured.length) return Math.min(...punctured);
  return now_ms ?? lastMs(fold);
}

/** Tell whether every vein chosen can be pressed; none chosen yet: no. @param {Fold} fold @returns {boolean} */
function isCompressible(fold) {
  const paths = Object.keys(fold.values).filter((path) => path.startsWith("wires/") && path.endsWith("/approach.site"));
  const sites = paths.flatMap((path) => heads(fold, path));
  const isOne = (/** @type {unknown} */ site) =>
    typeof site === "string" && COMPRESSIBLE.some((name) => site.startsWith(name));
  return sites.length > 0 && sites.every(isOne);
}
