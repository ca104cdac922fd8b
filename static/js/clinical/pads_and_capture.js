/** @import { Fold } from "../types.js" */
/** @import { Captured, Found, Told } from "./types-found.js" */
/** @import { Pads, StandingRow } from "./types.js" */
import { dependence } from "./dependence.js";
import { entriesOf } from "./evidence.js";
import { found } from "./found.js";
import { heads, isOver } from "./over.js";
import { padsHeard } from "./pads_heard.js";
import { remark } from "./remarks.js";
import { isPacingAt, openSpells, ownRhythm, ownRows } from "./rhythm.js";
import { rowsOf } from "./rows.js";

const PADS = "indication.pads";
const OFF = ["none", "on_not_connected"];

/**
 * Return capture said while pads paced, then pads not on standby once it is proven.
 * @param {Told} told
 * @param {Pads} pads
 * @returns {Found[]}
 */
export function padsAndCaptureRemarks(told, pads) {
  return [...told.wires.flatMap((wire) => underPads(told, wire, pads)), ...standby(told, pads)];
}

/**
 * Return statements inside an open spell; one made later without pads settles it.
 * @param {Told} told
 * @param {string} wire
 * @param {Pads} pads
 * @returns {Found[]}
 */
function underPads({ fold }, wire, pads) {
  const all = said(fold, wire);
  const readings = rowsOf(fold, ...["capture", "checks"].map((part) => `wires/${wire}/${part}.output_reading`));
  const captures = readings.filter((row) => row.value.result === "captures");
  const free = [...all, ...captures].map((one) => one.time_ms).filter((ms) => !isPacingAt(pads, ms));
  return all
    .filter((one) => isPacingAt(pads, one.time_ms))
    .map((one) => {
      const stands = !free.some((ms) => ms > one.time_ms);
      const evidence = inRecord(fold, one.ids, openRows(pads, one.time_ms));
      return found(remark("capture_under_pads", "look_now", {}, [], "second_sign"), one.path, wire, evidence, stands);
    });
}

/**
 * Return how the pads stood when capture was first proven, unless on standby. What was told first
 * after it counts where nothing was told before. Where nobody told of pads, that is said of a
 * patient known to be dependent.
 * @param {Told} told
 * @param {Pads} pads
 * @returns {Found[]}
 */
function standby(told, pads) {
  const all = told.wires.flatMap((wire) => proven(told.fold, wire, pads));
  if (!all.length) return [];
  const first = all.reduce((a, b) => (b.time_ms < a.time_ms ? b : a));
  if (pads.states.length === 0) return neverTold(told, first, pads);
  const last = pads.states.filter((row) => row.time_ms <= first.time_ms).slice(-1);
  if (!last.length && padsHeard(told).some((one) => one.is_on && one.time_ms <= first.time_ms)) return [];
  const before = last.length ? last : pads.states.slice(0, 1);
  if (!before.some((row) => OFF.includes(row.value.state))) return [];
  const isOff = OFF.includes(pads.states.at(-1)?.value.state);
  const stands = isOff && !isOver(told.fold, first.wire);
  const one = remark("standby_off", "look_again", {}, [], "pads_standby");
  return [found(one, PADS, first.wire, inRecord(told.fold, first.ids, before), stands)];
}

/** Where the pads have no row of their own, unless told on. @param {Told} told @param {Captured} first @param {Pads} pads @returns {Found[]} */
function neverTold(told, first, pads) {
  const rows = ownRows(told.fold);
  const isDependent = (/** @type {StandingRow} */ row) => dependence(ownRhythm(row), told.limits).is_dependent;
  // What makes the patient dependent: the last before, or none told after.
  const before = rows.filter((row) => row.time_ms <= first.time_ms).slice(-1);
  const none = rows.filter((row) => row.time_ms > first.time_ms && ownRhythm(row).result === "none");
  const own = [...before, ...none].find(isDependent);
  const heard = padsHeard(told);
  if (!own || pads.spells.length > 0 || heard.some((one) => one.is_on)) return [];
  const one = remark(heard.length ? "standby_off" : "standby_not_told", "look_again", {}, [], "pads_standby");
  const evidence = inRecord(told.fold, [...first.ids, ...heard.flatMap(({ ids }) => ids)], [own]);
  const stands = rows.slice(-1).every(isDependent) && !isOver(told.fold, first.wire);
  return [found(one, PADS, first.wire, evidence, stands)];
}

/**
 * Return every statement that a wire captures, in time.
 * @param {Fold} fold
 * @param {string} wire
 * @returns {Captured[]}
 */
function said(fold, wire) {
  const path = `wires/${wire}/capture.electrical_capture`;
  const found = checks(fold, wire).map((row) => ({ path: row.path, wire, time_ms: row.time_ms, ids: [row.id] }));
  if (heads(fold, path).includes("yes")) found.push(answered(fold, path, wire, [path]));
  return found.sort((a, b) => a.time_ms - b.time_ms);
}

/**
 * Return the statements that also name a mechanical sign. While pads pace nothing proves capture
 * of the wire: beat or sign may be the pads'.
 * @param {Fold} fold
 * @param {string} wire
 * @param {Pads} pads
 * @returns {Captured[]}
 */
function proven(fold, wire, pads) {
  const path = `wires/${wire}/capture.electrical_capture`;
  const sign = `wires/${wire}/capture.mechanical_capture`;
  const rows = checks(fold, wire).filter((row) => hasSign(row.value.mechanical_capture));
  const free = rows.filter((row) => !isPacingAt(pads, row.time_ms));
  const found = free.map((row) => ({ path: row.path, wire, time_ms: row.time_ms, ids: [row.id] }));
  const isProven = heads(fold, sign).some(hasSign) && heads(fold, path).includes("yes");
  if (!isProven) return found;
  const one = answered(fold, path, wire, [path, sign]);
  const isPaced = one.ids.some((id) => isPacingAt(pads, fold.entries[id].time_ms));
  return isPaced ? found : [...found, one];
}

/** @param {Fold} fold @param {string} wire @returns {StandingRow[]} */
function checks(fold, wire) {
  return rowsOf(fold, `wires/${wire}/checks.check`).filter((row) => row.value.electrical_capture === "yes");
}

/** @param {Fold} fold @param {string} path @param {string} wire @param {string[]} paths @returns {Captured} */
function answered(fold, path, wire, paths) {
  const ids = entriesOf(fold, paths);
  return { path, wire, time_ms: Math.max(...ids.map((id) => fold.entries[id].time_ms)), ids };
}

/** @param {unknown} told @returns {boolean} */
function hasSign(told) {
  return Array.isArray(told) && told.some((sign) => sign !== "none");
}

/** Return what says that pads paced at a time: open spells, and the pads' state. @param {Pads} pads @param {number} timeMs */
function openRows(pads, timeMs) {
  const last = pads.states.filter((row) => row.time_ms <= timeMs).slice(-1);
  return [...openSpells(pads, timeMs), ...last.filter((row) => row.value.state === "pacing_now")];
}

/** @param {Fold} fold @param {string[]} ids @param {StandingRow[]} rows @returns {string[]} */
function inRecord(fold, ids, rows) {
  const told = new Set([...ids, ...rows.map((row) => row.id)]);
  return fold.order.filter((id) => told.has(id));
}
