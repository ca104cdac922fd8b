/** @import { Bedside } from "../types-form.js" */
import { wirePath } from "../form/fields.js";
import { hasReader } from "../form/read-by.js";
import { ROW_DRAFT } from "../form/row-sheet.js";
import { say } from "../form/say.js";
import { childWords, timedRows } from "../form/standing.js";
import { addRow, quantity } from "./live-capture-keep.js";
import { modelOf, stateOf } from "./live-capture-state.js";
import { openTestOf } from "./tablet-numbers.js";
import { askReader } from "./tablet-reader.js";

const LEFT_AT = "wires/*/capture.dial_left_at";
/** @type {WeakSet<object>} hands whose row is being written */
const keeping = new WeakSet();
const QUANTITIES = ["output", "output_v", "rate", "sensitivity"];

/**
 * Note a number read off the generator. Until the row is kept it is a draft of that row:
 * without power or after another part it opens as one.
 * @param {Bedside} bed
 * @param {import("../form/unfinished.js").Drafts} drafts
 * @param {string} name mode, rate, output, output_v, sensitivity, asynchronous
 * @param {string} said
 */
export function noteRead(bed, drafts, name, said) {
  const state = stateOf(bed);
  if (!Object.keys(state.read).length) state.rowsThen = leftRows(bed);
  state.read = { ...state.read, [name]: said };
  if (name === "sensitivity") delete state.read.asynchronous;
  if (name === "asynchronous") delete state.read.sensitivity;
  const raw = Object.fromEntries(Object.entries(state.read).map(([child, text]) => (QUANTITIES.includes(child) ? [`${child}:qty`, text] : [`${child}:=${text}`, text])));
  drafts.note(draftAt(bed), JSON.stringify({ of: "", raw: JSON.stringify(raw) }));
}

/**
 * Return what was read off the generator and is no entry yet.
 * @param {Bedside} bed
 */
export function readOf(bed) {
  return stateOf(bed).read;
}

/**
 * Let go of what was kept from the row's own sheet meanwhile: that took the draft with it.
 * A row of somebody else takes nothing out of this hand.
 * @param {Bedside} bed
 * @param {import("../form/unfinished.js").Drafts} drafts
 */
export async function letGoIfKept(bed, drafts) {
  const state = stateOf(bed);
  if (keeping.has(state) || !Object.keys(state.read).length || state.rowsThen === leftRows(bed)) return;
  state.rowsThen = leftRows(bed);
  const [at, read] = [draftAt(bed), state.read];
  await drafts.flush();
  const held = await bed.store.drafts(bed.record).catch(() => null);
  if (!held || at in held || state.read !== read) return;
  state.read = {};
  bed.drawSoon();
}

/**
 * Keep what was read off the generator as one row, as read: nothing is filled in.
 * @param {Bedside} bed
 * @param {import("../form/unfinished.js").Drafts} drafts
 */
export async function keepReadBack(bed, drafts) {
  const state = stateOf(bed);
  const read = readOf(bed);
  if (!Object.keys(read).length) return;
  if (!hasReader(LEFT_AT, read, bed.standing)) return askReader(bed, () => void bed.during(keepReadBack(bed, drafts)));
  const told = Object.entries(read).map(([name, text]) => [name, QUANTITIES.includes(name) ? quantity(bed, "capture.dial_left_at", name, text) : text]);
  const { isTestOpen } = modelOf(bed);
  const at = draftAt(bed);
  drafts.forget(at);
  state.read = {};
  keeping.add(state);
  const id = await addRow(bed, "capture.dial_left_at", { ...(isTestOpen ? { when_kind: "after_test" } : {}), ...Object.fromEntries(told) }, at).finally(() => keeping.delete(state));
  if (id) {
    drafts.drop(at);
    Object.assign(state, { called: null, isConfirmed: false, isNew: false, kind: "", rate: "" });
  } else state.read = { ...read, ...state.read };
  // What was read while it was being written is a draft still; a row not kept is one again.
  for (const [name, text] of Object.entries(state.read)) noteRead(bed, drafts, name, text);
  bed.drawSoon();
}

/**
 * @typedef {object} Stood What was read back and kept.
 * @property {number} ms when, of the latest
 * @property {(name: string) => string} told its words, "": nobody read it
 */

/** @param {Bedside} bed @returns {Stood | null} the settings that were read last */
export function lastRead(bed) {
  return stoodOf(bed, leftIn(bed, ["dial_left_at"]).slice(-1));
}

/** @param {Bedside} bed @returns {Stood | null} what was read since the test that is open was last gone on with, in as many goes as it took */
export function readSinceTest(bed) {
  const ids = openTestOf(bed)?.ids ?? [];
  const rows = leftIn(bed, ["threshold_test", "sensing_test", "output_reading", "sensing_reading", "dial_left_at"]);
  return stoodOf(bed, rows.slice(rows.findLastIndex(({ row }) => ids.includes(row.id)) + 1));
}

/** @param {Bedside} bed @param {import("../form/standing.js").TimedRow[]} rows @returns {Stood | null} */
function stoodOf(bed, rows) {
  const last = rows.at(-1);
  if (!last) return null;
  // The unit stands in the key's own name.
  const one = (/** @type {string} */ name) => (/** @type {import("../form/standing.js").TimedRow} */ row) =>
    name === "sensitivity" && row.row.value.asynchronous === "yes" ? say("live.capture.async") : childWords(bed.now, row)(name).replace(/ (mA|V|mV|\/min)$/, "");
  return { ms: last.ms, told: (name) => rows.map(one(name)).findLast(Boolean) ?? "" };
}

/** @param {Bedside} bed @param {string[]} groups */
function leftIn(bed, groups) {
  return bed.wire ? timedRows(bed.now, groups.flatMap((group) => ["capture", "checks"].map((part) => wirePath(String(bed.wire), `${part}.${group}`)))) : [];
}

/** @param {Bedside} bed */
function draftAt(bed) {
  return (bed.wire ? LEFT_AT.replace("*", bed.wire) : LEFT_AT) + ROW_DRAFT;
}

/** @param {Bedside} bed */
function leftRows(bed) {
  return bed.wire ? bed.now.rows(LEFT_AT.replace("*", bed.wire), true).length : 0;
}
