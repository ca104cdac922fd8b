/** @import { Bedside } from "../types-form.js" */
import { el } from "../form/dom.js";
import { say } from "../form/say.js";
import { num } from "../live/num.js";
import { captureNumbers } from "./tablet-numbers.js";
import { age, depthReadings, lastDepth } from "./tablet-panels.js";
import { thresholdTold } from "./tablet-threshold.js";

/**
 * Return the numbers that run on beside the card, each with its age: depth, what the dial
 * was left at, threshold.
 * @param {Bedside} bed
 * @param {string} today
 * @returns {HTMLElement[]}
 */
export function cardNumbers(bed, today) {
  const { summary } = captureNumbers(bed);
  const { figure, unit, word, said, isTested } = thresholdTold(bed);
  const last = lastDepth(depthReadings(bed, today));
  const left = summary?.left_at;
  const shown = summary?.shown.left_at;
  const depth = !last ? null : last.cm ? num(last.cm, "cm") : el("b", {}, last.said);
  return [
    numberOf(say(last && !last.atHub ? "depth.elsewhere" : "depth.at_hub"), depth, last ? age(bed, last.ms) : say("depth.none")),
    numberOf(say("capture.left_at"), left && shown ? num(shown, left.unit) : null, left && shown ? age(bed, left.time_ms) : say("capture.not_read")),
    numberOf(say("capture.threshold"), figure === null ? el("b", {}, word) : num(figure, unit), isTested ? said.join(" · ") : say("capture.not_tested")),
  ];
}

/** @param {string} name @param {HTMLElement | null} value @param {string} said */
function numberOf(name, value, said) {
  return el("div", { class: "card-number" }, el("p", { class: "panel-ask" }, name), el("div", { class: "card-value" }, value ?? el("b", {}, "–")), el("p", { class: "panel-said" }, said));
}
