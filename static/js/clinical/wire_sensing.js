/** @import { Fold } from "../types.js" */
/** @import { SensingSummary } from "./types-after.js" */
/** @import { Told } from "./types-found.js" */
/** @import { Dial, StandingRow } from "./types.js" */
import { settingsRows, unsensed } from "./asynchronous.js";
import { dependence, mayOfferSensingTest } from "./dependence.js";
import { dialOf } from "./dial.js";
import { segments } from "./dial_text.js";
import { isLess, number } from "./exact.js";
import { PARTS } from "./left_at.js";
import { ownRhythm, ownRows } from "./rhythm.js";
import { oneAnswer, point, rowsOf } from "./rows.js";
import { sensingRemarks, sensingThreshold, sensitivityAsks } from "./sensing.js";

const RESULTS = ["sensed", "not_sensed", "cannot_tell"];

/**
 * Return one wire's sensing: never another wire's test beside its dial. The latest test that
 * measured counts: by its readings, else by what was written as sensed; of both the lower. One
 * that only lost sensing leaves it unknown. An R wave is judged in the ventricle only.
 * @param {Told} told
 * @param {string} wire
 * @returns {SensingSummary}
 */
export function sensingSummary(told, wire) {
  const dial = sensitivityDial(told.fold, wire);
  const { measured, ids } = measuredOf(told.fold, wire);
  const left = leftOf(told.fold, wire);
  const isDependent = dependence(ownRhythm(ownRows(told.fold).at(-1) ?? null), told.limits).is_dependent;
  const limits = { ...told.limits };
  if (oneAnswer(told.fold, `wires/${wire}/approach.chamber`) === "ra") delete limits.r_wave_low_mv;
  return {
    measured,
    asks: sensitivityAsks(measured, dial, limits),
    left_at: left.mv,
    is_asynchronous: left.isAsync,
    is_offered: mayOfferSensingTest(isDependent),
    remarks: sensingRemarks(measured, left.mv, dial, limits, isDependent),
    test_ids: ids,
    left_id: left.id,
  };
}

/**
 * Return the sensitivity dial of the wire's latest generator.
 * @param {Fold} fold
 * @param {string} wire
 * @returns {Dial}
 */
export function sensitivityDial(fold, wire) {
  const latest = rowsOf(fold, `wires/${wire}/capture.generator`).at(-1);
  return dialOf(latest ? segments(latest.value.sensitivity_dial) : null);
}

/** The sensing threshold of the latest test that tells of it, and its rows. @param {Fold} fold @param {string} wire */
function measuredOf(fold, wire) {
  const at = (/** @type {string} */ name) => PARTS.map((part) => `wires/${wire}/${part}.${name}`);
  const readings = rowsOf(fold, ...at("sensing_reading"));
  for (const test of rowsOf(fold, ...at("sensing_test")).reverse()) {
    const own = readings.filter((row) => row.value.of === test.id);
    const read = sensingThreshold(own.flatMap(pair));
    const written = point(test.value.sensed_mv, "mV").n;
    const measured = lower(read, written);
    // An older and better value never hides a test in which nothing was sensed.
    if (measured === null && !own.some(({ value }) => value.result === "not_sensed")) continue;
    const rows = [test, ...own].sort((a, b) => a.place - b.place);
    return { measured, ids: rows.map((row) => row.id) };
  }
  return { measured: null, ids: [] };
}

/** @param {StandingRow} row @returns {[string, string][]} */
function pair({ value }) {
  const mv = point(value.sensitivity, "mV").n;
  return mv !== null && RESULTS.includes(value.result) ? [[mv, value.result]] : [];
}

/** @param {string | null} read @param {string | null} written */
function lower(read, written) {
  const [a, b] = [number(read), number(written)];
  if (!a || !b) return a ? read : written;
  return isLess(b, a) ? written : read;
}

/**
 * The sensitivity last read back, whether asynchronous, and its row. One read under a mode
 * that does not sense, or before it, is none.
 * @param {Fold} fold
 * @param {string} wire
 */
function leftOf(fold, wire) {
  const rows = settingsRows(fold, wire);
  const last = unsensed(rows).at(-1);
  if (last) return { mv: null, isAsync: true, id: last.id };
  for (let n = rows.length - 1; n >= 0 && unsensed(rows.slice(0, n + 1)).length === 0; n -= 1) {
    const { id, value } = rows[n];
    if ("sensitivity" in value) return { mv: point(value.sensitivity, "mV").n, isAsync: false, id };
  }
  return { mv: null, isAsync: false, id: "" };
}
