/** @import { Said } from "./types-after.js" */
/** @import { Found, Told } from "./types-found.js" */
import { capturesSaid, inTime, said } from "./capture_said.js";
import { endingRemarks } from "./ending_remarks.js";
import { entriesOf } from "./evidence.js";
import { found } from "./found.js";
import { PARTS } from "./left_at.js";
import { heads } from "./over.js";
import { remark } from "./remarks.js";
import { ownRhythm, ownRows } from "./rhythm.js";
import { rowsOf } from "./rows.js";
import { mixedRemarks } from "./wires_mixed.js";

const PATH = "finish.outcome";
const BEGUN = ["advance.depth_reading", "capture.threshold_test", "capture.output_reading", "capture.dial_left_at", "capture.sensing_test"];

/** @typedef {{code: string, ids: string[]}} Against what an outcome stands against */
/** @type {{[outcome: string]: (told: Told, outcome: Said) => Against}} */
const CONTRADICTS = {
  capturing_wire_in: noCapture,
  not_capturing_wire_in: captures,
  standby_wire_in: paced,
  given_up_wire_out: leftIn,
  not_started: leftIn,
  stopped_own_rhythm_back: noRhythm,
  died_during: alive,
};

/**
 * Return each contradiction of the outcome, of endings, and between wires.
 * @param {Told} told
 * @returns {Found[]}
 */
export function outcomeRemarks(told) {
  return [
    ...said(told.fold, PATH).flatMap((one) => outcomeFound(told, one)),
    ...told.wires.flatMap((wire) => endingRemarks(told, wire)),
    ...mixedRemarks(told),
  ];
}

/** @param {Told} told @param {Said} outcome @returns {Found[]} */
function outcomeFound(told, outcome) {
  if (typeof outcome.value !== "string" || !Object.hasOwn(CONTRADICTS, outcome.value)) return [];
  const { code, ids } = CONTRADICTS[outcome.value](told, outcome);
  if (ids.length === 0) return [];
  const all = new Set([...outcome.ids, ...ids]);
  return [found(remark(code, "look_again"), PATH, "", told.fold.order.filter((id) => all.has(id)))];
}

/** Wire by wire, what was last said of capture by the time of the outcome. @param {Told} told @param {Said} outcome */
function lastSaid(told, outcome) {
  const every = told.wires.map((wire) => capturesSaid(told.fold, wire).filter((one) => inTime(one, outcome) < 0));
  return every.flatMap((some) => some.slice(-1));
}

/** @param {Told} told @param {Said} outcome @returns {Against} */
function noCapture(told, outcome) {
  const last = lastSaid(told, outcome);
  const lost = last.some(({ value }) => value === true) ? [] : last;
  return { code: "outcome_no_capture", ids: lost.flatMap(({ ids }) => ids) };
}

/** @param {Told} told @param {Said} outcome @returns {Against} */
function captures(told, outcome) {
  const last = lastSaid(told, outcome).filter(({ value }) => value === true);
  return { code: "outcome_captures", ids: last.flatMap(({ ids }) => ids) };
}

/** @param {Told} told @returns {Against} */
function paced(told) {
  const all = told.wires.flatMap((wire) => said(told.fold, `wires/${wire}/capture.pacing_delivered`));
  return { code: "outcome_paced", ids: all.filter(({ value }) => value === "yes").flatMap(({ ids }) => ids) };
}

/**
 * Final settings, final depth and checks of a wire that is not in. Of several one that is out
 * is enough: the others may have been left in.
 * @param {Told} told
 * @param {Said} outcome
 * @returns {Against}
 */
function leftIn(told, outcome) {
  const wires = ofProcedure(told);
  const each = wires.map((wire) => inPlace(told, wire));
  const isOut = each.some((ids) => ids.length === 0);
  if (outcome.value !== "not_started") return { code: "outcome_wire_in", ids: isOut ? [] : each.flat() };
  if (each.flat().length > 0) return { code: "outcome_wire_in", ids: each.flat() };
  const begun = rowsOf(told.fold, ...wires.flatMap((wire) => BEGUN.map((name) => `wires/${wire}/${name}`)));
  return { code: "outcome_begun", ids: begun.map((row) => row.id) };
}

/** The wires an outcome is about: one that came is not, beside another. @param {Told} told @returns {string[]} */
function ofProcedure({ fold, wires }) {
  const fresh = wires.filter((wire) => !heads(fold, `wires/${wire}/approach.wire_came`).includes("came_with_it"));
  return fresh.length > 0 ? fresh : wires;
}

/** What tells that a wire was left in. @param {Told} told @param {string} wire @returns {string[]} */
function inPlace({ fold }, wire) {
  const under = `wires/${wire}`;
  const left = rowsOf(fold, ...PARTS.map((part) => `${under}/${part}.dial_left_at`));
  const checks = rowsOf(fold, `${under}/checks.check`);
  const depth = `${under}/advance.final_depth`;
  const paths = said(fold, depth).length > 0 ? [depth] : [];
  return entriesOf(fold, paths, [...left.filter((row) => row.value.when_kind === "final"), ...checks]);
}

/** @param {Told} told @returns {Against} */
function noRhythm(told) {
  const last = ownRows(told.fold).at(-1);
  return { code: "outcome_no_rhythm", ids: last && ownRhythm(last).result === "none" ? [last.id] : [] };
}

/** @param {Told} told @returns {Against} */
function alive(told) {
  const others = said(told.fold, "finish.condition").filter(({ value }) => value !== "died");
  return { code: "outcome_alive", ids: others.flatMap(({ ids }) => ids) };
}
