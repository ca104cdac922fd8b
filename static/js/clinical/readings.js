/** @import { Fold } from "../types.js" */
/** @import { Margin, Policy, PolicyAsks, Remark, Tested, ThresholdSummary, ThresholdTest, WireCase } from "./types.js" */
import { dependence } from "./dependence.js";
import { shownOn } from "./dial.js";
import { dialInUse, settings } from "./left_at.js";
import { margin, unknown } from "./margin.js";
import { policyAsks } from "./output.js";
import { whyUnlike } from "./pulse_widths.js";
import { heavierFirst } from "./remarks.js";
import { changes } from "./retest.js";
import { ownRhythm, ownRows } from "./rhythm.js";
import { bestTest, standingTests, tested } from "./standing.js";
import { belowMinimum, notComparable, retest, severalTests } from "./summary_remarks.js";
import { toldOf } from "./told.js";
import { toldTests } from "./told_tests.js";

/**
 * Return one wire's threshold summary. Never pairs one wire's threshold with another wire's
 * output; never computes with an impossible or missing value; writes nothing.
 * @param {Fold} fold
 * @param {string} wire entry id of the wire's row
 * @param {Policy} policy as in catalogue.json
 * @param {{now_ms?: number | null, at_handover?: boolean}} [context] now_ms: null leaves the
 *   age of the test unjudged
 * @returns {ThresholdSummary}
 */
export function thresholdSummary(fold, wire, policy, context = {}) {
  const { now_ms = null, at_handover = false } = context;
  const found = caseOf(fold, wire, policy);
  const { standing, stale } = standingTests(found.tests, found.changes, now_ms, found.limits);
  const best = bestTest(standing, found.left_at?.width_ms ?? null);
  const same = standing.filter(({ told }) => told.unit === best?.told.unit);
  const why = unlike(found, best, same);
  const asks = asked(found, best, stale, why);
  const held = marginOf(found, best, at_handover, why);
  const result = best?.result ?? null;
  const beside = [
    ...retest(stale, found.limits),
    ...notComparable(why, found.left_at, best, same),
    ...severalTests(standing, best, found.dial),
    ...belowMinimum(found.left_at, asks, held, found.dial),
  ];
  return {
    wire,
    unit: unit(found, best),
    age: found.age,
    dependence: found.dependence,
    dial_known: found.dial.known,
    tests: found.tests,
    counted: best?.told.id ?? null,
    threshold: result?.threshold ?? null,
    at_most: result?.at_most ?? null,
    none_up_to: result?.none_up_to ?? null,
    bracket: result?.bracket ?? null,
    method: result?.method ?? "",
    tier: result?.tier ?? null,
    retest: stale,
    asks,
    left_at: found.left_at,
    margin: held,
    shown: shownOf(found, result, asks),
    remarks: remarks(found, best, stale, [...held.remarks, ...beside]),
    left_out: found.tests.flatMap(({ told }) => told.left_out),
  };
}

/**
 * @param {Fold} fold
 * @param {string} wire
 * @param {Policy} policy
 * @returns {WireCase}
 */
function caseOf(fold, wire, policy) {
  const { age, limits } = toldOf(fold, policy, null);
  const depends = dependence(ownRhythm(ownRows(fold).at(-1) ?? null), limits);
  const { dial, isVoltage } = dialInUse(fold, wire);
  const left = settings(fold, wire, dial);
  const found = changes(fold, wire, limits);
  const told = toldTests(fold, wire, dial, left);
  return {
    age,
    limits,
    dependence: depends,
    dial,
    is_voltage: isVoltage,
    left_at: left.at(-1) ?? null,
    changes: found,
    tests: told.map((one) => tested(one, dial, limits, depends.is_dependent, found)),
  };
}

/**
 * @param {WireCase} found
 * @param {Tested | null} best
 */
function unit(found, best) {
  const last = found.tests.at(-1);
  if (best) return best.told.unit;
  if (last && last.told.ids.length > 0) return last.told.unit;
  return found.left_at?.unit ?? (found.is_voltage ? "V" : "mA");
}

/**
 * Return why a test and the dial, both in volts, are not comparable.
 * @param {WireCase} found
 * @param {Tested | null} best
 * @param {Tested[]} same
 * @returns {Margin["why"]}
 */
function unlike({ left_at }, best, same) {
  if (!best || !left_at || left_at.output === null || left_at.unit !== best.told.unit) return "";
  if (best.result.threshold === null && best.result.at_most === null) return "";
  return whyUnlike(left_at.width_ms, best.told.width_ms, same.map(({ told }) => told.width_ms));
}

/**
 * @param {WireCase} found
 * @param {Tested | null} best
 * @param {string} stale
 * @param {Margin["why"]} why
 * @returns {PolicyAsks}
 */
function asked(found, best, stale, why) {
  let why_none = stale ? "retest" : "no_threshold";
  if (!stale && best && best.result.at_most !== null) why_none = "loss_not_sought";
  if (!stale && best && best.result.none_up_to !== null) why_none = "no_capture";
  if (why) why_none = "pulse_width";
  const context = { unit: unit(found, best), why_none };
  return policyAsks((why ? null : best?.result.threshold) ?? null, found.dial, found.limits, found.dependence.is_dependent, context);
}

/**
 * @param {WireCase} found
 * @param {Tested | null} best
 * @param {boolean} atHandover
 * @param {Margin["why"]} why
 * @returns {Margin}
 */
function marginOf({ left_at, dial, limits, dependence: depends }, best, atHandover, why) {
  if (why) return { ...unknown(), why };
  if (!best || !left_at || left_at.unit !== best.told.unit) return unknown();
  const setting = { ...left_at, at_handover: atHandover };
  return margin(setting, best.result.threshold, best.result.at_most, dial, limits, depends.is_dependent);
}

/**
 * Return all remarks; of a test that no longer stands nothing is said but why.
 * @param {WireCase} found
 * @param {Tested | null} best
 * @param {string} stale
 * @param {Remark[]} beside
 * @returns {Remark[]}
 */
function remarks(found, best, stale, beside) {
  const toldBy = stale ? [] : [...(best ? [best] : []), ...found.tests.slice(-1)];
  return heavierFirst([...beside, ...toldBy.flatMap(({ result }) => result.remarks)]);
}

/**
 * @param {WireCase} found
 * @param {ThresholdTest | null} result
 * @param {PolicyAsks} asks
 */
function shownOf({ dial, left_at }, result, asks) {
  const { threshold, at_most, none_up_to, bracket } = result ?? {};
  const named = { threshold, at_most, none_up_to, ...bracket, asks: asks.output, left_at: left_at?.output };
  const told = Object.entries(named).filter(([, value]) => typeof value === "string");
  return Object.fromEntries(told.map(([name, value]) => [name, shownOn(dial, /** @type {string} */ (value))]));
}
