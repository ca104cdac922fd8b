/** @import { Bedside } from "../types-form.js" */
import { el, key } from "../form/dom.js";
import { wirePath } from "../form/fields.js";
import { say } from "../form/say.js";
import { wiring } from "../live/capture.js";
import { answer } from "./live-capture-keep.js";

/** Worst first: an atrial output beside the ventricle's is the one that kills a test unseen. */
const LINES = ["atrial_output_zero", "ventricular_port", "distal_to_negative", "proximal_to_positive"];
const ORDER = ["not_asked", "two_answers", "no", "not_known", "yes"];
const ANSWERS = ["yes", "no", "not_known"];

/** @typedef {{name: string, label: string, words: string, state: string}} WiringLine */

/**
 * Return the four lines of the wiring, worst first: not asked, then what is not so.
 * @param {Bedside} bed
 * @returns {WiringLine[]}
 */
export function wiringLines(bed) {
  return LINES.map((name) => lineOf(bed, name)).sort((a, b) => ORDER.indexOf(a.state) - ORDER.indexOf(b.state));
}

/** @param {Bedside} bed @param {string} name @returns {WiringLine} */
function lineOf(bed, name) {
  const label = say(`live.capture.wiring.${name}`);
  const said = bed.wire ? bed.now.answer(wirePath(bed.wire, `capture.${name}`)) : null;
  if (!said || said.state === "not_asked") return { name, label, words: say("words.not_asked"), state: "not_asked" };
  const isPlain = said.state === "answered" && ANSWERS.includes(String(said.value));
  const state = said.state === "two_answers" ? "two_answers" : isPlain ? String(said.value) : "not_known";
  return { name, label, words: said.state === "two_answers" ? say("answers.title") : said.words, state };
}

/**
 * Draw the checklist: a line a question in an order that never changes, with the drawing
 * beside it.
 * @param {Bedside} bed
 * @param {import("../form/unfinished.js").Drafts} drafts
 * @returns {HTMLElement[]}
 */
export function wiringSheet(bed, drafts) {
  const lines = LINES.map((name) => lineOf(bed, name));
  const state = (/** @type {string} */ name) => /** @type {import("../live/capture.js").Wired} */ (lines.find((one) => one.name === name)?.state);
  const words = {
    generator: say("live.capture.wiring.generator"), atrial: say("live.capture.wiring.atrial"), ventricular: say("live.capture.wiring.ventricular"),
    tip: say("live.capture.wiring.tip"), ring: say("live.capture.wiring.ring"), words: lines.map((one) => `${one.label}: ${one.words}`).join(", "),
  };
  const drawing = wiring({ port: state("ventricular_port"), tip: state("distal_to_negative"), ring: state("proximal_to_positive"), atrial: state("atrial_output_zero") }, words);
  return [el("div", { class: "cap-wiring-lines" }, ...lines.map((one) => asked(bed, drafts, one))), el("div", { class: "cap-wiring-draw" }, drawing)];
}

/** @param {Bedside} bed @param {import("../form/unfinished.js").Drafts} drafts @param {WiringLine} line */
function asked(bed, drafts, { name, label, words, state }) {
  const keys = ANSWERS.map((one) =>
    key(say(`words.${one}`), () => answer(bed, drafts, `capture.${name}`, one === "not_known" ? { absent: "not_known" } : one, JSON.stringify({ [`:=${one}`]: one })), {
      "data-act": `${name}-${one}`, "aria-pressed": String(state === one), "aria-label": `${say(`words.${one}`)}: ${label}`,
    }),
  );
  return el("div", { class: "cap-wiring-line", role: "group", "aria-label": label }, el("p", { "data-state": state }, el("span", {}, label), el("b", {}, words)), el("div", { class: "pair" }, ...keys));
}
