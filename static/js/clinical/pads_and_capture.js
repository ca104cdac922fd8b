/** @import { Fold } from "../types.js" */
/** @import { Captured, Found, Told } from "./types-found.js" */
/** @import { Pads, StandingRow } from "./types.js" */
import { entriesOf, lastMs } from "./evidence.js";
import { found } from "./found.js";
import { heads, isOver } from "./over.js";
import { remark } from "./remarks.js";
import { isPacingAt, openSpells } from "./rhythm.js";
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
      return found(remark("capture_under_pads", "look_now", {}, [], "pads_standby"), one.path, wire, evidence, stands);
    });
}

/**
 * Return how the pads stood when capture was first proven, unless on standby.
 * @param {Told} told
 * @param {Pads} pads
 * @returns {Found[]}
 */
function standby(told, pads) {
  const all = told.wires.flatMap((wire) => proven(told.fold, wire));
  if (!all.length) return [];
  const first = all.reduce((a, b) => (b.time_ms < a.time_ms ? b : a));
  const before = pads.states.filter((row) => row.time_ms <= first.time_ms).slice(-1);
  const isPacing = isPacingAt(pads, first.time_ms);
  if (!isPacing && !before.some((row) => OFF.includes(row.value.state))) return [];
  const rows = isPacing ? openRows(pads, first.time_ms) : before;
  const end = Math.max(told.now_ms ?? 0, lastMs(told.fold));
  const isSo = isPacing ? isPacingAt(pads, end) : OFF.includes(pads.states.at(-1)?.value.state);
  const one = remark(isPacing ? "standby_pacing" : "standby_off", "look_again", {}, [], "pads_standby");
  const stands = isSo && !isOver(told.fold, first.wire);
  return [found(one, PADS, first.wire, inRecord(told.fold, first.ids, rows), stands)];
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
 * Return the statements that also name a mechanical sign.
 * @param {Fold} fold
 * @param {string} wire
 * @returns {Captured[]}
 */
function proven(fold, wire) {
  const path = `wires/${wire}/capture.electrical_capture`;
  const sign = `wires/${wire}/capture.mechanical_capture`;
  const rows = checks(fold, wire).filter((row) => hasSign(row.value.mechanical_capture));
  const found = rows.map((row) => ({ path: row.path, wire, time_ms: row.time_ms, ids: [row.id] }));
  const isProven = heads(fold, sign).some(hasSign) && heads(fold, path).includes("yes");
  return isProven ? [...found, answered(fold, path, wire, [path, sign])] : found;
}

/** @param {Fold} fold @param {string} wire @returns {StandingRow[]} */
function checks(fold, wire) {
  return rowsOf(fold, `wires/${wire}/checks.check`).filter((row) => row.value.electrical_capture === "yes");
}

/**
 * @param {Fold} fold
 * @param {string} path
 * @param {string} wire
 * @param {string[]} paths
 * @returns {Captured}
 */
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
