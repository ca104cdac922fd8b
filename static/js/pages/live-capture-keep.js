/** @import { Json, JsonObject } from "../types.js" */
/** @import { Bedside, FieldSpec } from "../types-form.js" */
import { openAnswer } from "../form/answer-writer.js";
import { struck } from "../form/keep.js";
import { keepRow } from "../form/keep-row.js";
import { parse } from "../form/kinds.js";
import { shortWords } from "../form/row-words.js";
import { settingOf } from "../form/today.js";
import { exactMoment } from "../log/clock.js";
import { modelOf, onDial, rateSaid, stateOf } from "./live-capture-state.js";

/**
 * Keep one output reading at the value that was read on the generator. The first of a
 * test brings the test. The confirmation is used up before anything is written.
 * @param {Bedside} bed
 * @param {string} result captures, no_capture, cannot_tell
 */
export async function keepReading(bed, result) {
  const state = stateOf(bed);
  const { called, isVoltage, test, kind, ...model } = modelOf(bed);
  const rate = rateSaid(bed, { test });
  if (called === null) return;
  const shown = onDial({ called, isVoltage, test, kind, ...model }, called);
  Object.assign(state, { called: shown, isConfirmed: false, isAsked: false, waiting: "" });
  /** @type {string | null} */
  let begun = null;
  try {
    begun = test ? null : await addRow(bed, "capture.threshold_test", { kind, ...rateTold(bed, "capture.threshold_test", rate) });
    const of = test?.told.id ?? begun;
    // Without its test the reading was not written: the dial was read, its result is told again.
    if (!of) return void (state.isConfirmed = true);
    // From here on the test is there, whether its reading is kept or not.
    Object.assign(state, { kind: "", isNew: false });
    const name = isVoltage ? "output_v" : "output";
    const id = await addRow(bed, "capture.output_reading", { of, [name]: quantity(bed, "capture.output_reading", name, shown), result, ...rateTold(bed, "capture.output_reading", rate) });
    if (!id) return;
    Object.assign(state, { called: null, waiting: id });
    buzz(model.last?.row.value.result === "captures" && result === "no_capture" ? [40, 60, 40, 60, 40] : [40]);
  } finally {
    if (state.waiting === "") state.waiting = begun;
    bed.drawSoon();
  }
}

/** The pacing rate as it was said; one that nobody said is no part of the row. @param {Bedside} bed @param {string} group @param {string} rate @returns {JsonObject} */
function rateTold(bed, group, rate) {
  return rate ? { rate: quantity(bed, group, "rate", rate) } : {};
}

/** @param {number[]} pattern ms; where there is no vibration nothing is missed */
function buzz(pattern) {
  navigator.vibrate?.(pattern);
}

/**
 * Strike the last output reading of the page's wire.
 * @param {Bedside} bed
 */
export async function strikeLast(bed) {
  const { last } = modelOf(bed);
  if (!last) return;
  const field = specOf(bed, "capture.output_reading");
  const words = shortWords(field, last.row.value, settingOf(bed).today);
  await bed.keep({ path: last.path, op: "strike", value: { strikes: last.row.id, reason: null } }, struck({ label: field.label, words }));
  Object.assign(stateOf(bed), { called: null, isConfirmed: false });
  bed.drawSoon();
}

/** @type {Map<string, import("../form/answer-writer.js").AnswerWriter>} */
const writers = new Map();

/**
 * Answer one question of the page's wire; a quick second tap never makes two answers.
 * @param {Bedside} bed
 * @param {import("../form/unfinished.js").Drafts} drafts
 * @param {string} path of the catalogue
 * @param {Json} value
 * @param {string} raw as its field would hold it
 */
export function answer(bed, drafts, path, value, raw) {
  const writer = writerOf(bed, drafts, path);
  writer.commit(value, raw);
  void bed.during(writer.settled());
}

/**
 * Return what the record says, or is about to; null: nothing, undefined: two answers.
 * @param {Bedside} bed
 * @param {import("../form/unfinished.js").Drafts} drafts
 * @param {string} path of the catalogue
 */
export function standingAnswer(bed, drafts, path) {
  return writerOf(bed, drafts, path).standing();
}

/** @param {Bedside} bed @param {import("../form/unfinished.js").Drafts} drafts @param {string} path */
function writerOf(bed, drafts, path) {
  const writer = writers.get(path) ?? openAnswer(`wires/*/${path}`, specOf(bed, path), bed, drafts, () => {});
  writers.set(path, writer);
  return writer;
}

/**
 * Add a row of the page's wire, stamped now.
 * @param {Bedside} bed
 * @param {string} group
 * @param {JsonObject} told
 * @param {string} [clears] the draft it takes the place of
 * @returns {Promise<string | null>} its id; null: not kept, and said so
 */
export async function addRow(bed, group, told, clears) {
  const field = specOf(bed, group);
  const { of, ...rest } = told;
  const value = { ...(of === undefined ? {} : { of }), moment: exactMoment(bed.clock(), bed.store.zone()), ...rest };
  const said = { label: field.label, words: shortWords(field, rest, settingOf(bed).today) };
  return (await keepRow(bed, `wires/*/${group}`, value, said, clears ? { clears } : {}))?.id ?? null;
}

/**
 * Return a number as the field of a row reads it.
 * @param {Bedside} bed
 * @param {string} group
 * @param {string} name
 * @param {string} text
 * @returns {Json}
 */
export function quantity(bed, group, name, text) {
  const child = specOf(bed, group).children.find((one) => one.name === name);
  return child ? parse(child, text, null, settingOf(bed)) : null;
}

/** @param {Bedside} bed @param {string} path @returns {FieldSpec} */
export function specOf(bed, path) {
  const found = bed.index.at(path)?.field;
  if (!found) throw new Error(`the catalogue has no ${path}`);
  return found;
}
