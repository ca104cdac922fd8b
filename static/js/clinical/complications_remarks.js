/** @import { Fold } from "../types.js" */
/** @import { Found, Told } from "./types-found.js" */
/** @import { StandingRow, Tested } from "./types.js" */
import { drift } from "./drift.js";
import { entriesOf, inOrder } from "./evidence.js";
import { found } from "./found.js";
import { heads, isOver } from "./over.js";
import { thresholdSummary } from "./readings.js";
import { remark } from "./remarks.js";
import { changes } from "./retest.js";
import { isObject, rowsOf } from "./rows.js";

const COMPLICATION = "finish.complication";
const BUNDLES = ["left_bundle", "right_bundle"];
const READ = ["seen_by_me", "reported"];

/**
 * Return each wire's combinations, then complications without a stated cause. Pain alone is
 * no verdict; no limit of blood pressure is known here: low is what was said to be low.
 * @param {Told} told
 * @returns {Found[]}
 */
export function complicationsRemarks(told) {
  return [...told.wires.flatMap((wire) => together(told, wire)), ...causes(told)];
}

/** Return what came together with chest pain, hiccup or twitch of this wire. @param {Told} told @param {string} wire */
function together(told, wire) {
  const twitch = `wires/${wire}/capture.twitch`;
  const checks = rowsOf(told.fold, `wires/${wire}/checks.check`);
  const felt = checks.filter(({ value }) => [value.chest_pain, value.hiccup_twitch].includes("yes"));
  const twitched = twitches(told.fold, twitch) ? entriesOf(told.fold, [twitch]) : [];
  if (!felt.length && !twitched.length) return [];
  /** @type {[string, string[]][]} */
  const signs = [
    ["perforation_pressure", lowPressure(told, checks)],
    ["perforation_shape", changedShape(told, checks)],
    ["perforation_threshold", risen(told, wire)],
  ];
  const path = felt.length ? felt[felt.length - 1].path : twitch;
  return signs
    .filter(([, ids]) => ids.length > 0)
    .map(([code, ids]) => remarkOn(told, code, path, wire, new Set([...ids, ...twitched, ...inOrder(felt)])));
}

/**
 * @param {Told} told
 * @param {string} code
 * @param {string} path
 * @param {string} wire
 * @param {Set<string>} ids
 * @returns {Found}
 */
function remarkOn({ fold }, code, path, wire, ids) {
  const evidence = fold.order.filter((id) => ids.has(id));
  const last = Math.max(...evidence.map((id) => fold.entries[id].time_ms));
  const stands = !isRuledOut(fold, last) && !isOver(fold, wire);
  return found(remark(code, "look_now", {}, [], "ultrasound_perforation"), path, wire, evidence, stands);
}

/** @param {Fold} fold @param {string} path @returns {boolean} */
function twitches(fold, path) {
  return heads(fold, path).filter(Array.isArray).flat().some((sign) => sign !== "none");
}

/** Return the rows that say the pressure is low; a figure is no verdict. @param {Told} told @param {StandingRow[]} checks */
function lowPressure(told, checks) {
  const rows = [...checks, ...rowsOf(told.fold, "indication.observations")];
  return inOrder(rows.filter(({ value }) => isObject(value.systolic) && value.systolic.special === "low"));
}

/** Return checks that say so; with one wire, also 12-leads whose bundle changed. @param {Told} told @param {StandingRow[]} checks */
function changedShape(told, checks) {
  const rows = checks.filter((row) => row.value.shape_same === "no");
  const leads = rowsOf(told.fold, "finish.paced_ecg").filter((row) => BUNDLES.includes(row.value.pattern));
  const hasChanged = told.wires.length === 1 && new Set(leads.map((row) => row.value.pattern)).size > 1;
  return inOrder(hasChanged ? [...rows, ...leads] : rows);
}

/**
 * Return first and last test of this position, where the threshold rose so far.
 * @param {Told} told
 * @param {string} wire
 * @returns {string[]}
 */
function risen(told, wire) {
  const moved = changes(told.fold, wire, told.limits).filter((one) => one.code === "repositioned");
  const since = moved.reduce((last, one) => Math.max(last, one.time_ms), -1);
  const { tests } = thresholdSummary(told.fold, wire, told.policy, told);
  const here = tests.filter((test) => test.told.unit === "mA" && test.told.time_ms > since);
  const measured = here.filter((test) => test.result.threshold !== null);
  if (!measured.length) return [];
  const values = measured.map((test) => ({ ms: test.told.time_ms, value: test.result.threshold ?? "" }));
  const last = here[here.length - 1];
  const isRisen = drift(values, null, false, null, told.limits).step === "risen";
  if (last.result.none_up_to === null && !isRisen) return [];
  return [...new Set([...idsOf(measured[0]), ...idsOf(last)])];
}

/** @param {Tested} test @returns {string[]} */
function idsOf(test) {
  return [test.told.id, ...test.told.ids].filter(Boolean);
}

/**
 * Tell whether the latest ultrasound or CT since then found no effusion. One that found it
 * settles nothing: it is what was feared.
 * @param {Fold} fold
 * @param {number} sinceMs
 * @returns {boolean}
 */
function isRuledOut(fold, sinceMs) {
  const answers = rowsOf(fold, "finish.imaging").filter(
    ({ value, time_ms }) =>
      ["ultrasound", "ct"].includes(value.kind) &&
      READ.includes(value.state) &&
      ["yes", "no"].includes(value.effusion) &&
      time_ms >= sinceMs,
  );
  return answers.at(-1)?.value.effusion === "no";
}

/**
 * Return what nobody stated the cause of, and causes that nobody is named for. "Cannot tell" is an
 * answer once a clinician is named for it; until then none is.
 * @param {Told} told
 * @returns {Found[]}
 */
function causes(told) {
  return rowsOf(told.fold, COMPLICATION).flatMap((row) => {
    const { cause, cause_by: causeBy } = row.value;
    if (typeof cause === "string" && isNamed(causeBy)) return [];
    const isStated = typeof cause === "string" && cause !== "cannot_tell";
    return [found(remark(isStated ? "cause_unnamed" : "cause_blank", "look_again"), COMPLICATION, "", [row.id])];
  });
}

/**
 * @param {any} value any: a person as kept
 * @returns {boolean}
 */
function isNamed(value) {
  return isObject(value) && (Boolean(value.name) || typeof value.person === "string");
}
