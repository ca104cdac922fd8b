/** @typedef {import("./live-advance.js").Advance} Advance */
import { resultsFor } from "../clinical/guidance.js";
import { el, key } from "../form/dom.js";
import { fillInPlace } from "../form/in-place.js";
import { say } from "../form/say.js";
import { pattern } from "../live/patterns.js";
import { ask, isHeld, isOffered } from "./live-advance-call.js";
import { GUIDES, P_WAVES, choiceWord, guideOf, guidesTold, isNewGuide, pWavesOf } from "./live-advance-guide.js";
import { keepAnswer, keepRow } from "./live-advance-keep.js";
import { called } from "./live-advance-lens.js";

const DIGITS = ["1", "2", "3", "4", "5", "6", "7", "8", "9", "0"];
const FIGURES = 2;

/**
 * Draw what is answered next: the results of the guide, or what was asked for in their
 * place.
 * @param {HTMLElement} at
 * @param {Advance} page
 */
export function drawGrid(at, page) {
  const guide = guideOf(page.bed, page.call);
  const asked = page.call.asked === "results" && !guide ? "guide" : page.call.asked;
  at.dataset.asked = asked;
  at.dataset.guide = guide;
  // Keys that just came are not answered yet: nobody aimed at them.
  at.toggleAttribute("data-held", isHeld(page.call, performance.now()));
  fillInPlace(at, ...{ results, guide: guides, p_waves: pWaves, digits }[asked](page, guide));
}

/** @param {Advance} page @param {string} guide */
function results(page, guide) {
  return resultsFor(guide, pWavesOf(page.bed)).map((result) => {
    // Taken at once; what is kept is said by the receipt, and by the depth that is called no more.
    const taken = page.call.keeping === result ? "true" : null;
    const made = key("", () => void seen(page, result), { "data-act": `result-${result}`, "data-result": result, "aria-pressed": taken });
    const drawing = pattern(result, guide);
    if (drawing) made.append(drawing);
    made.append(el("b", {}, choiceWord(page.bed, "depth_reading", result)));
    if (result === "rv_contact") made.append(el("small", {}, say("advance.st_up")));
    return made;
  });
}

/** Depth and result are kept as one reading, at the moment the result is told. @param {Advance} page @param {string} result */
async function seen(page, result) {
  const { call, bed, redraw } = page;
  if (call.depth === null) {
    call.said = "advance.ask.depth_first";
    return redraw();
  }
  await keepReading(page, { guided_by: guideOf(bed, call), result });
}

/** A depth that nothing was seen at, as of when it was called. @param {Advance} page */
export async function keepAlone(page) {
  if (isOffered(page.call, page.bed.clock())) await keepReading(page, {}, page.call.calledMs);
}

/** @param {Advance} page @param {import("../types.js").JsonObject} said @param {number} [ms] */
async function keepReading({ bed, call, redraw }, said, ms) {
  const { depth } = call;
  if (depth === null || call.keeping !== null) return;
  call.keeping = String(said.result ?? "");
  redraw();
  const value = { depth: { as: depth, n: String(Number(depth)), unit: "cm" }, read_at: "sheath_hub", ...said };
  const id = await keepRow(bed, "depth_reading", value, ms).finally(() => (call.keeping = null));
  // What was not kept stays called, to be told again.
  if (id && call.depth === depth) call.depth = null;
  bed.drawSoon();
}

/** @param {Advance} page @param {string} guide */
function guides(page, guide) {
  const { bed, call, redraw, tools } = page;
  const keys = GUIDES.map((one) => {
    const tap = () => {
      if (isNewGuide(bed, one)) void keepAnswer(bed, "guided_by", [...guidesTold(bed), one]);
      call.guide = one;
      ask(call, "results");
      redraw();
    };
    return key(choiceWord(bed, "guided_by", one), tap, { "data-act": `guide-${one}`, "aria-pressed": String(one === guide) });
  });
  return [...keys, key(say("advance.other_way"), () => tools.add("advance.depth_reading"), { "data-act": "other-way" })];
}

/** @param {Advance} page */
function pWaves(page) {
  const { bed, call, redraw } = page;
  return P_WAVES.map((one) => {
    const tap = () => {
      if (pWavesOf(bed) !== one) void keepAnswer(bed, "p_waves", one);
      ask(call, "results");
      redraw();
    };
    return key(say(`advance.p_waves.${one}`), tap, { "data-act": `p-waves-${one}`, "aria-pressed": String(pWavesOf(bed) === one) });
  });
}

/** @param {Advance} page */
function digits(page) {
  const { call, redraw } = page;
  return DIGITS.map((digit) => {
    const tap = () => {
      call.digits += digit;
      if (call.digits.length < FIGURES) return redraw();
      const depth = call.digits;
      ask(call, "results");
      called(page, depth, true);
    };
    return key(digit, tap, { "data-act": `digit-${digit}` });
  });
}
