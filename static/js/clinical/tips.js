/** @import { Fold } from "../types.js" */
/** @import { Tip, When } from "./types-way.js" */
/** @import { StandingRow } from "./types.js" */
import { number } from "./exact.js";
import { isPacingAt, padsOf } from "./rhythm.js";
import { placesOf, point, rowsOf } from "./rows.js";
import { chamberOf, countBefore, depthOf, passesOf, textOf, when } from "./way.js";

const TELLING = ["advance.depth_reading", "capture.output_reading", "checks.output_reading", "checks.check"];

/**
 * Return the depths of readings, resistance, the end and pacing checks, in time.
 * @param {Fold} fold
 * @param {string} wire
 * @returns {Tip[]}
 */
export function tipsOf(fold, wire) {
  const under = `wires/${wire}`;
  const paths = ["advance.depth_reading", "advance.resistance", "checks.check"];
  const rows = rowsOf(fold, ...paths.map((path) => `${under}/${path}`));
  const passes = passesOf(fold, wire);
  const found = [...rows.flatMap((row) => tip(row, passes)), ...final(fold, under, passes)];
  return found.sort(inTime);
}

/**
 * Return when a wire showed an RV pattern or captured, not while pads paced.
 * @param {Fold} fold
 * @param {string} wire
 * @returns {When[]}
 */
export function seenInVentricle(fold, wire) {
  const under = `wires/${wire}`;
  const rows = rowsOf(fold, ...TELLING.map((group) => `${under}/${group}`));
  const heads = fold.values[`${under}/capture.electrical_capture`] ?? [];
  const entries = heads.filter((head) => head.value === "yes").flatMap((head) => head.entries);
  const pads = padsOf(fold);
  const found = [...rows.filter(tellsVentricle).map(when), ...entries.map((entry) => entered(fold, entry))];
  return found.filter((at) => !isPacingAt(pads, at[0]));
}

/** @param {Tip} a @param {Tip} b */
function inTime(a, b) {
  return a.when[0] - b.when[0] || a.when[1] - b.when[1];
}

/** @param {StandingRow} row */
function tellsVentricle(row) {
  const result = textOf(row, "result");
  return chamberOf(result) === "rv" || result === "captures" || row.value.electrical_capture === "yes";
}

/** @param {StandingRow} row @param {StandingRow[]} passes @returns {Tip[]} none where the depth is no one number */
function tip(row, passes) {
  const depth = depthOf(row);
  if (!depth) return [];
  const at = when(row);
  return [{ id: row.id, path: row.path, depth, when: at, turn: countBefore(passes, at) }];
}

/** Return the final depth as one, unless there are two answers to it. @param {Fold} fold @param {string} under @param {StandingRow[]} passes @returns {Tip[]} */
function final(fold, under, passes) {
  const path = `${under}/advance.final_depth`;
  const heads = fold.values[path] ?? [];
  const depth = heads.length === 1 ? number(point(heads[0].value, "cm").n) : null;
  if (!depth) return [];
  const id = /** @type {string} */ (heads[0].entries.at(-1));
  const at = entered(fold, id);
  return [{ id, path, depth, when: at, turn: countBefore(passes, at) }];
}

/** @param {Fold} fold @param {string} entry @returns {When} */
function entered(fold, entry) {
  return [fold.entries[entry].time_ms, placesOf(fold).get(entry) ?? 0];
}
