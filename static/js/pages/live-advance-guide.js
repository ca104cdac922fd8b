/** @import { Bedside } from "../types-form.js" */
import { isAbsence } from "../form/controls.js";
import { wirePath } from "../form/fields.js";
import { say } from "../form/say.js";

/** Guides whose results stand on keys. */
export const GUIDES = ["intracardiac_ecg", "pacing", "fluoroscopy", "transthoracic", "transoesophageal"];
export const P_WAVES = ["yes", "none", "cannot_tell"];

/**
 * Return what the record says the wire is guided by; of two answers all that were told.
 * @param {Bedside} bed
 * @returns {import("../types.js").Json[]}
 */
export function guidesTold({ now, wire }) {
  if (!wire) return [];
  const { heads } = now.answer(wirePath(wire, "advance.guided_by"));
  return [...new Set(heads.filter((head) => !isAbsence(head)).flatMap((head) => (Array.isArray(head) ? head : [])))];
}

/**
 * Tell whether a guide is added to what is told: not where it stands already, and not over two
 * answers that differ, which somebody settles by name.
 * @param {Bedside} bed
 * @param {string} guide
 */
export function isNewGuide(bed, guide) {
  const { heads } = bed.now.answer(wirePath(bed.wire ?? "", "advance.guided_by"));
  return heads.length < 2 && !guidesTold(bed).includes(guide);
}

/**
 * Return the guide whose results stand on the keys, "" where none is known.
 * @param {Bedside} bed
 * @param {{guide: string}} call
 * @returns {string}
 */
export function guideOf(bed, { guide }) {
  if (guide) return guide;
  return GUIDES.find((one) => guidesTold(bed).includes(one)) ?? "";
}

/**
 * Return the one answer to P waves, "" where there is none.
 * @param {Bedside} bed
 */
export function pWavesOf({ now, wire }) {
  const value = wire ? now.answer(wirePath(wire, "advance.p_waves")).value : null;
  return typeof value === "string" ? value : "";
}

/**
 * Return what stands under the name of P waves: its answer, "not asked", or both of two.
 * @param {Bedside} bed
 */
export function pWavesWords({ now, wire }) {
  if (!wire) return say("words.not_asked");
  const answer = now.answer(wirePath(wire, "advance.p_waves"));
  return typeof answer.value === "string" ? say(`advance.p_waves.${answer.value}`) : answer.words;
}

/**
 * Return a choice of a field of Advance as its key shows it: short where there is a short
 * word, else as the catalogue has it.
 * @param {Bedside} bed
 * @param {string} field
 * @param {string} code
 */
export function choiceWord(bed, field, code) {
  const short = `advance.key.${code}`;
  if (say(short) !== short) return say(short);
  const found = bed.index.at(`advance.${field}`)?.field;
  const choices = found?.kind === "group" ? found.children.find((child) => child.name === "result")?.choices : found?.choices;
  return choices?.find((choice) => choice.code === code)?.label ?? code;
}
