/** @import { Found, Told } from "./types-found.js" */
/** @import { StandingRow } from "./types.js" */
import { dependence } from "./dependence.js";
import { depthCompared, depthRead } from "./depth_moved.js";
import { entriesOf } from "./evidence.js";
import { atRow, found, idsInOrder } from "./found.js";
import { hasDied, heads, isOver } from "./over.js";
import { readAgainRemarks } from "./read_again.js";
import { remark } from "./remarks.js";
import { removalRemarks } from "./removal_remarks.js";
import { ownRhythm, ownRows, padsOf } from "./rhythm.js";
import { momentMs, rowsOf, wirePaths } from "./rows.js";

/** "Connected, pacing mode ready" and "pacing now" alone are backup (clinical 18). */
const READY = ["connected_ready", "pacing_now"];

/**
 * Return what receivers read otherwise, open handovers, transfers, removals.
 * @param {Told} told
 * @returns {Found[]}
 */
export function handingRemarks(told) {
  return [
    ...told.wires.flatMap((wire) => readAgainRemarks(told, wire)),
    ...noReceiver(told),
    ...rowsOf(told.fold, "handover.transfer").flatMap((row) => transfer(told, row)),
    ...told.wires.flatMap((wire) => removalRemarks(told, wire)),
  ];
}

/** @param {Told} told */
function wiresIn(told) {
  return told.wires.filter((wire) => !isOver(told.fold, wire));
}

/** Say that a handover has no receiver yet; at home the patient is who receives. @param {Told} told @returns {Found[]} */
function noReceiver(told) {
  const path = "finish.handed_to";
  if (heads(told.fold, path).length === 0 || heads(told.fold, "finish.received_by").length > 0) return [];
  const reads = wirePaths(told.fold, ["handover.receiver_reads"]);
  if (rowsOf(told.fold, ...reads).length > 0 || wiresIn(told).length === 0) return [];
  if (heads(told.fold, "finish.destination").includes("home")) return [];
  return [found(remark("handover_open", "look_again"), path, "", entriesOf(told.fold, [path]))];
}

/**
 * Return what a way between places lacked, or moved; on arrival it is past.
 * @param {Told} told
 * @param {StandingRow} row
 * @returns {Found[]}
 */
function transfer(told, row) {
  const atMs = momentMs(row.value.left_at) ?? row.time_ms;
  const own = ownRows(told.fold).findLast((one) => one.time_ms <= atMs) ?? null;
  const pads = padsAt(told, atMs);
  const isReady = pads !== undefined && READY.includes(state(pads)) && row.value.pads_with !== "no";
  const isDependent = dependence(ownRhythm(own), told.limits).is_dependent;
  if (!isDependent || isReady || told.wires.length === 0) return moved(told, row);
  const one = remark("transfer_without_pads", "look_now", {}, [], "pads_connected");
  const isPast = momentMs(row.value.arrived_at) !== null;
  const stands = !isPast && wiresIn(told).length > 0 && !hasDied(told.fold);
  return [found(one, row.path, "", idsInOrder([own, pads, row]), stands), ...moved(told, row)];
}

/** What told the state of the pads last before a time. @param {Told} told @param {number} atMs */
function padsAt(told, atMs) {
  const checks = rowsOf(told.fold, ...wirePaths(told.fold, ["checks.check"])).filter((row) => "pads" in row.value);
  const before = [...padsOf(told.fold).states, ...checks].filter((row) => row.time_ms <= atMs);
  return before.toSorted((a, b) => a.time_ms - b.time_ms || a.place - b.place).at(-1);
}

/** @param {StandingRow} row */
function state(row) {
  return row.value[row.path.endsWith(".check") ? "pads" : "state"];
}

/** Say that the wire lay elsewhere after the way; how it was read nobody says. @param {Told} told @param {StandingRow} row @returns {Found[]} */
function moved(told, row) {
  const [before, after] = ["depth_before", "depth_after"].map((name) => depthRead({ depth: row.value[name] }, []));
  if (!before || !after || depthCompared(before, after, told.limits) !== "moved") return [];
  const values = { before: before.shown, after: after.shown };
  return [atRow(remark("transfer_moved", "look_again", values, ["depth_moved_estimated_cm"]), row, "")];
}
