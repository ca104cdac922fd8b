/** @import { Fold } from "../types.js" */
/** @import { After, Due } from "./types-after.js" */
/** @import { Exact, Limits, Policy, StandingRow } from "./types.js" */
import { isLess, number, product, quotient, ratio } from "./exact.js";
import { leftMs, placedMs, latest } from "./in_place.js";
import { PARTS } from "./left_at.js";
import { askedBy } from "./look_asked.js";
import { heads, isOver } from "./over.js";
import { limits as limitsFor } from "./policy.js";
import { isObject, oneAnswer, rowsOf } from "./rows.js";

/** domain 4e, Betts 2003: 20 % infected beyond 48 h, 4 % before. */
const INFECTION_H = ratio(48n, 1n);
/** @type {{[unit: string]: Exact}} calendar */
const HOURS = { h: ratio(1n, 1n), d: ratio(24n, 1n) };
const HOUR_MS = 3_600_000n;
const MINUTES_PER_HOUR = ratio(60n, 1n);
/** limits of ours: what is longer than a year is no interval between checks */
const LONGEST_H = ratio(8760n, 1n);
const NOT_DONE = ["dependent", "not_my_role", "asked_doctor"];

/**
 * Return the next of each kind, whether it is past or still to come; after removal or death
 * nothing, ever.
 * @param {Fold} fold
 * @param {string} wire
 * @param {Policy} policy
 * @returns {Due[]}
 */
export function nextDue(fold, wire, policy) {
  if (isOver(fold, wire)) return [];
  const limits = limitsFor(policy, true);
  const all = [lookCheck(fold, wire, limits), threshold(fold, wire, limits), ...byAge(fold, wire, policy)];
  return all.flatMap((one) => (one ? [one] : []));
}

/** @param {string} kind @param {number | null} since @param {Exact | null} hours @param {After} [after] @returns {Due | null} */
function due(kind, since, hours, after = "") {
  if (since === null || !hours) return null;
  return { kind, due_ms: since + Number((hours.n * HOUR_MS) / hours.d), since_ms: since, hours, after };
}

/** Hours between checks: as planned, else as policy has it; home: as planned. @param {Fold} fold @param {string} wire @param {Exact | null} usual */
function interval(fold, wire, usual) {
  const told = oneAnswer(fold, "finish.check_interval");
  if (isObject(told) && Object.hasOwn(HOURS, String(told.unit))) {
    const exact = "low" in told || "cmp" in told ? null : number(told.n);
    const hours = exact && product(exact, HOURS[told.unit]);
    if (hours && hours.n > 0n && !isLess(LONGEST_H, hours)) return hours;
  }
  const isAtHome = heads(fold, "finish.destination").includes("home") || heads(fold, `wires/${wire}/removal.ending`).length > 0;
  return isAtHome ? null : usual;
}

/** @param {Fold} fold @param {string} wire */
const checksOf = (fold, wire) => rowsOf(fold, `wires/${wire}/checks.check`);

/** @param {Fold} fold @param {string} wire @param {Limits} limits */
function lookCheck(fold, wire, limits) {
  const checked = latest(checksOf(fold, wire).map((row) => row.time_ms));
  // The first that nobody looked after: a later one hides no delay.
  const open = askedBy(fold, wire).find(([ms]) => checked === null || checked < ms);
  if (open) {
    const minutes = number(limits.arrival_check_min);
    return due("look_check", open[0], minutes && quotient(minutes, MINUTES_PER_HOUR), open[1]);
  }
  return due("look_check", checked ?? leftMs(fold, wire), interval(fold, wire, number(limits.look_check_h)));
}

/** After the last test, or a reason for none. @param {Fold} fold @param {string} wire @param {Limits} limits */
function threshold(fold, wire, limits) {
  const under = PARTS.flatMap((part) => ["threshold_test", "output_reading"].map((name) => `wires/${wire}/${part}.${name}`));
  const rows = [...rowsOf(fold, ...under), ...checksOf(fold, wire).filter(closesThreshold)];
  const since = latest(rows.map((row) => row.time_ms)) ?? leftMs(fold, wire);
  return due("threshold", since, interval(fold, wire, number(limits.threshold_check_h)));
}

/** @param {StandingRow} row */
function closesThreshold({ value }) {
  if (value.threshold_due === "tested") return true;
  return value.due_reason === "threshold_daily" && (NOT_DONE.includes(value.done) || isObject(value.done));
}

/** What the age of the wire makes due: need, infection, change. @param {Fold} fold @param {string} wire @param {Policy} policy */
function byAge(fold, wire, policy) {
  const placed = placedMs(fold, wire);
  if (placed === null) return [];
  const checks = checksOf(fold, wire);
  const needs = policy.rows.need_review_h.value.split(", ").map((text) => due("need_review", placed, number(text)));
  const need = needs.filter((one) => one && !isAnswered(one, checks, "still_needed"));
  const site = due("infection", placed, INFECTION_H);
  const days = number(policy.rows.dwell_max_days.value);
  const change = due("dwell", placed, days && product(days, HOURS.d));
  return [...need.slice(0, 1), site && isAnswered(site, checks, "site_score") ? null : site, change];
}

/** Tell whether a check at that time or later answered it; an absence does not. @param {Due} one @param {StandingRow[]} checks @param {string} name */
function isAnswered(one, checks, name) {
  const told = checks.filter((row) => row.time_ms >= one.due_ms).map((row) => row.value[name] ?? null);
  return told.some((value) => value !== null && !(isObject(value) && "absent" in value));
}
