/** @import { Due, Measured } from "./types-after.js" */
/** @import { Found, Told } from "./types-found.js" */
/** @import { Remark, Tested } from "./types.js" */
import { depthRemarks } from "./depth_moved.js";
import { shownOn } from "./dial.js";
import { drift } from "./drift.js";
import { nextDue } from "./due.js";
import { decimal, number, quotient, ratio } from "./exact.js";
import { found } from "./found.js";
import { dialInUse } from "./left_at.js";
import { isOver } from "./over.js";
import { thresholdSummary } from "./readings.js";
import { remark } from "./remarks.js";
import { changes, since } from "./retest.js";
import { elapsed, secondsOf, times } from "./shown.js";

/** After these the wire lies in another position. */
const POSITION = ["depth", "repositioned", "resecured"];
/** @type {{[kind: string]: string}} */
const LIMITS = { look_check: "look_check_h", threshold: "threshold_check_h", dwell: "dwell_max_days" };
const ROLES = "threshold_by_roles";
const AT_ITS_HOUR = ["need_review", "dwell"];
const BY_AGE = ["need_review", "infection"];
/** calendar */
const HOURS_PER_DAY = ratio(24n, 1n);

/**
 * Return each wire's remarks on the time after the procedure.
 * @param {Told} told
 * @returns {Found[]}
 */
export function driftRemarks(told) {
  return told.wires.flatMap((wire) => {
    const due = nextDue(told.fold, wire, told.policy);
    return [...drifting(told, wire, due), ...depthRemarks(told, wire), ...pastDue(told, wire, due)];
  });
}

/** What is past its time; need and site are one question while both are. @param {Told} told @param {string} wire @param {Due[]} due */
function pastDue(told, wire, due) {
  const now = told.now_ms;
  if (now === null) return [];
  const past = due.filter((one) => isPast(one, now));
  const asksNeed = past.some((one) => one.kind === "need_review");
  const asked = past.filter((one) => one.kind !== "infection" || !asksNeed);
  return asked.map((one) => found(remarkOf(told, one, now), `wires/${wire}/checks.check`, wire));
}

/** A review falls due at its hour, not after it. @param {Due} due @param {number} nowMs */
function isPast(due, nowMs) {
  return nowMs > due.due_ms || (AT_ITS_HOUR.includes(due.kind) && nowMs === due.due_ms);
}

/** @param {Told} told @param {Due} due @param {number} nowMs @returns {Remark} */
function remarkOf(told, due, nowMs) {
  /** @type {{[name: string]: string}} */
  let values = { hours: decimal(due.hours) };
  if (!BY_AGE.includes(due.kind)) values = { late: elapsed(secondsOf(nowMs - due.due_ms)) };
  if (due.kind === "dwell") values = { days: decimal(quotient(due.hours, HOURS_PER_DAY)) };
  const key = due.after ? "arrival_check_min" : LIMITS[due.kind];
  const keys = key ? [key] : [];
  const roles = due.kind === "threshold" && told.policy.roles;
  if (!roles) return remark(`due_${due.kind}`, "look_again", values, keys);
  return remark(`due_${due.kind}`, "look_again", { ...values, roles }, [...keys, ROLES], "threshold_by");
}

/**
 * Return the one thing a run of thresholds says; of a margin below the floor now the settings'
 * own remark speaks.
 * @param {Told} told
 * @param {string} wire
 * @param {Due[]} due
 * @returns {Found[]}
 */
function drifting(told, wire, due) {
  if (isOver(told.fold, wire)) return [];
  const summary = thresholdSummary(told.fold, wire, told.policy, { now_ms: told.now_ms });
  const tests = inPosition(told, wire, summary.tests);
  const values = tests.map((test) => ({ ms: test.told.time_ms, value: test.result.threshold ?? "" }));
  const output = summary.left_at?.unit === "mA" ? summary.left_at.output : null;
  const dueMs = due.find((one) => one.kind === "threshold")?.due_ms ?? null;
  const { step, shown } = drift(values, output, summary.margin.verdict === "below_floor", dueMs, told.limits);
  if (step !== "projected" && step !== "risen") return [];
  const ids = tests.toSorted((a, b) => a.told.place - b.told.place).flatMap((test) => [test.told.id, ...test.told.ids]);
  const evidence = [...new Set(ids.filter(Boolean))];
  return [found(drifted(told, wire, values, step, shown), `wires/${wire}/checks.threshold_test`, wire, evidence)];
}

/** @param {Told} told @param {string} wire @param {Measured[]} values @param {string} step @param {string} margin */
function drifted(told, wire, values, step, margin) {
  if (step === "projected") {
    const key = "threshold_margin_floor";
    const floor = number(told.limits[key]);
    return remark("drift_projected", "look_again", { margin, floor: floor ? times(floor) : "" }, [key]);
  }
  const { dial } = dialInUse(told.fold, wire);
  const [first, last] = [values[0], values[values.length - 1]].map((one) => shownOn(dial, one.value));
  return remark("drift_risen", "look_again", { first, last }, ["drift_factor", "drift_minimum_ma"]);
}

/** Return the tests in mA that found a threshold since the wire last moved. @param {Told} told @param {string} wire @param {Tested[]} tests */
function inPosition(told, wire, tests) {
  const moves = changes(told.fold, wire, told.limits).filter((one) => POSITION.includes(one.code));
  return tests.filter((test) => test.result.threshold !== null && test.told.unit === "mA" && since(test.told, moves) === null);
}
