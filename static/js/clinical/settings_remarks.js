/** @import { Found, Told } from "./types-found.js" */
/** @import { Mode } from "./types-settings.js" */
import { inArrest } from "./arrests.js";
import { asynchronous, settingsRows, toldAsynchronous, unsensed } from "./asynchronous.js";
import { dependence } from "./dependence.js";
import { number } from "./exact.js";
import { atRow, found } from "./found.js";
import { modeOf } from "./mode.js";
import { openTest } from "./open_test.js";
import { heads, isOver } from "./over.js";
import { remark } from "./remarks.js";
import { ownRhythm, ownRows } from "./rhythm.js";
import { elapsed, secondsOf } from "./shown.js";

const VENTRICULAR = ["rv", "cs_lv"];
const MINUTE_MS = 60_000n;

/**
 * Return each wire's remarks on the settings read back.
 * @param {Told} told
 * @returns {Found[]}
 */
export function settingsRemarks(told) {
  return told.wires.flatMap((wire) => [...test(told, wire), ...noSensing(told, wire), ...modes(told, wire)]);
}

/** @param {Told} told @param {string} wire @returns {Found[]} */
function test(told, wire) {
  const open = openTest(told.fold, wire, told.limits, told.now_ms);
  if (!open || isOver(told.fold, wire)) return [];
  const path = `wires/${wire}/capture.dial_left_at`;
  if (open.seconds === null) return [found(remark("test_settings_left", "look_again", {}, [], "read_back"), path, wire, open.ids)];
  const code = open.setting ? "test_settings" : "test_settings_unsaid";
  const values = { setting: open.setting, elapsed: elapsed(open.seconds) };
  const one = open.is_late
    ? remark(code, "look_now", values, ["test_banner_alarm_s"], "read_back")
    : remark(code, "look_again", values, [], "read_back");
  return [found(one, path, wire, open.ids)];
}

/** Say that a wire paces asynchronously beside an own rhythm. @param {Told} told @param {string} wire @returns {Found[]} */
function noSensing(told, wire) {
  const run = asynchronous(told.fold, wire);
  const row = ownRows(told.fold).at(-1) ?? null;
  const own = ownRhythm(row);
  if (!run || !row || own.result !== "rhythm" || inArrest(told.fold) || isOver(told.fold, wire)) return [];
  const path = `wires/${wire}/capture.dial_left_at`;
  const evidence = [...run.ids, row.id];
  if (told.now_ms === null) return [found(remark("asynchronous_left", "look_again"), path, wire, evidence)];
  const ms = told.now_ms - run.since_ms;
  const values = { elapsed: elapsed(secondsOf(ms)) };
  const bound = number(told.limits.async_review_min);
  const isReliable = !dependence(own, told.limits).is_dependent;
  const isLate = isReliable && bound !== null && BigInt(ms) * bound.d > bound.n * MINUTE_MS;
  const one = isLate
    ? remark("asynchronous_standing", "look_now", values, ["async_review_min"])
    : remark("asynchronous_standing", "look_again", values);
  return [found(one, path, wire, evidence)];
}

/** Return modes that cannot be, each at its row; only the latest still stands. @param {Told} told @param {string} wire */
function modes(told, wire) {
  /** @type {Found[]} */
  const all = [];
  /** @type {Mode | null} */
  let mode = null;
  const rows = settingsRows(told.fold, wire);
  const last = rows.findLast((row) => modeOf(row.value.mode) !== null || toldAsynchronous(row) !== null);
  for (const [n, row] of rows.entries()) {
    const own = modeOf(row.value.mode);
    mode = own ?? mode;
    if (!mode) continue;
    const codes = [];
    if (own?.wants_atrial_wire && hasNoAtrialWire(told, wire, own)) codes.push("mode_without_atrial_wire");
    const tellsAny = own !== null || toldAsynchronous(row) !== null;
    if (tellsAny && !mode.is_asynchronous && unsensed(rows.slice(0, n + 1)).length > 0) codes.push("mode_but_asynchronous");
    const values = { mode: mode.code };
    all.push(...codes.map((code) => atRow(remark(code, "look_again", values), row, wire, row === last)));
  }
  return all;
}

/**
 * Tell whether surely no wire lies in the atrium. A wire whose chamber nobody said may; but one
 * wire alone cannot be both.
 * @param {Told} told
 * @param {string} wire
 * @param {Mode} mode
 */
function hasNoAtrialWire(told, wire, mode) {
  const needsBoth = mode.letters.slice(0, 2).includes("D");
  return told.wires.every((other) => {
    const chambers = heads(told.fold, `wires/${other}/approach.chamber`);
    const isKnown = chambers.some((one) => VENTRICULAR.includes(one)) || (needsBoth && other === wire);
    return !chambers.includes("ra") && isKnown;
  });
}
