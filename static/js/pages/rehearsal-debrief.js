/** @import { Bedside } from "../types-form.js" */
import { el, key, the } from "../form/dom.js";
import { elapsedWords } from "../form/elapsed.js";
import { say } from "../form/say.js";
import { settingOf } from "../form/today.js";
import { momentWords } from "../form/words.js";
import { exactMoment } from "../log/clock.js";
import { debriefOf } from "../rehearsal/debrief.js";
import { doneIn, seenIn } from "../rehearsal/told.js";
import { choiceWords, openSheet } from "./rehearsal-sheet.js";
import { scriptOf } from "./rehearsal.js";
import { captureNumbers } from "./tablet-numbers.js";
import { startOf } from "./tablet-time.js";

/** @typedef {import("../rehearsal/debrief.js").Line} Line */

/**
 * Return the key that ends a rehearsal and says how it went, or null where none runs.
 * @param {Bedside} bed
 * @returns {HTMLElement | null}
 */
export function debriefKey(bed) {
  return scriptOf(bed.now) ? key(say("rehearsal.debrief"), () => show(bed), { "data-act": "debrief" }) : null;
}

/** @param {Bedside} bed */
function show(bed) {
  const script = scriptOf(bed.now);
  if (!script) return;
  const told = { started_ms: startOf(bed.now, bed.clock()).ms, threshold_ma: numberOr(captureNumbers(bed).threshold) };
  const { readings, missed, done, times, threshold } = debriefOf(script, doneIn(bed.now), seenIn(bed.now), told);
  openSheet(the("#who-sheet"), say("rehearsal.debrief"), [
    el("h4", {}, say("rehearsal.times")),
    el("ul", { class: "debrief-times" }, ...Object.entries(times).map(([name, seconds]) => timeLine(name, seconds))),
    el("h4", {}, say("rehearsal.threshold_title")),
    el("p", { "data-as-hidden": threshold.isAsHidden ? "yes" : "no" }, say(`rehearsal.${threshold.code}`, threshold.values)),
    el("h4", {}, say("rehearsal.readings", { count: readings.length, same: readings.filter((line) => line.isAsHidden).length })),
    el("ol", { class: "debrief-readings" }, ...readings.map((line) => readingLine(bed, line))),
    el("h4", {}, say("rehearsal.missed", { count: missed.length })),
    el("ul", {}, ...missed.map((code) => el("li", {}, say(`rehearsal.asked.${code}`)))),
    el("h4", {}, say("rehearsal.done", { count: done.length })),
    el("ul", {}, ...done.map((code) => el("li", {}, say(`rehearsal.asked.${code}`)))),
    el("p", { class: "quiet" }, say("rehearsal.caution")),
  ]);
}

/** @param {string} name @param {number | null} seconds */
function timeLine(name, seconds) {
  return el("li", {}, `${say(`rehearsal.time.${name}`)} `, el("b", {}, seconds === null ? say("rehearsal.never") : elapsedWords(seconds)));
}

/** @param {Bedside} bed @param {Line} line */
function readingLine(bed, { code, values, isAsHidden }) {
  const time = momentWords(exactMoment(Number(values.ms), bed.store.zone()), settingOf(bed).today);
  const path = code === "depth" ? "advance.depth_reading" : "capture.output_reading";
  const [told, hidden] = [choiceWords(bed, path, String(values.told)), choiceWords(bed, path, String(values.hidden))];
  const verdict = isAsHidden ? say("rehearsal.same") : say("rehearsal.other", { hidden });
  return el("li", { "data-as-hidden": isAsHidden ? "yes" : "no" }, el("time", {}, time), " ", el("b", {}, say(`rehearsal.read.${code}`, { n: values.n })), ` ${told} · ${verdict}`);
}

/** @param {string | null} text */
function numberOr(text) {
  return text === null ? null : Number(text);
}
