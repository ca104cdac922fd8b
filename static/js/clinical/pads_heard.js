/** @import { Heard, Told } from "./types-found.js" */
import { entriesOf } from "./evidence.js";
import { heads } from "./over.js";
import { rowsOf, wirePaths } from "./rows.js";

/** "Pads: yes" at the time-out tells of pads; "connected, ready" tells more. */
const ON = ["connected_ready", "pacing_now", "yes"];
const OFF = ["none", "on_not_connected", "no"];
const BESIDE = [
  ...["checks.check", "capture.threshold_test", "checks.threshold_test"],
  ...["capture.own_rhythm", "checks.own_rhythm", "handover.receiver_reads"],
];
const CHILDREN = ["pads", "pads_ready", "pads_then", "sees_pads"];
const FIELDS = ["consent.time_out_pads", "finish.pads_left"];

/**
 * Return every answer that tells how the pads are, elsewhere than in their own rows: tests, checks,
 * lists, readers. An absence tells nothing.
 * @param {Told} told
 * @returns {Heard[]}
 */
export function padsHeard(told) {
  const rows = rowsOf(told.fold, "indication.own_rhythm", ...wirePaths(told.fold, BESIDE));
  const found = rows.flatMap((row) => {
    const said = CHILDREN.map((name) => row.value[name]).filter(tells);
    return said.map((value) => ({ is_on: ON.includes(value), time_ms: row.time_ms, ids: [row.id] }));
  });
  const fields = [...FIELDS, ...told.wires.map((wire) => `wires/${wire}/removal.pads`)];
  return [...found, ...fields.flatMap((path) => answers(told, path))];
}

/** @param {Told} told @param {string} path @returns {Heard[]} */
function answers({ fold }, path) {
  const ids = entriesOf(fold, [path]);
  const time_ms = Math.max(...ids.map((id) => fold.entries[id].time_ms));
  const said = heads(fold, path).filter(tells);
  return said.map((value) => ({ is_on: ON.includes(value), time_ms, ids }));
}

/** @param {unknown} value @returns {boolean} */
function tells(value) {
  return typeof value === "string" && [...ON, ...OFF].includes(value);
}
