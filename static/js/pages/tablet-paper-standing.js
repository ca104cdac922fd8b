/** @import { Bedside } from "../types-form.js" */
import { el } from "../form/dom.js";
import { elapsedWords } from "../form/elapsed.js";
import { say } from "../form/say.js";
import { generatorState, ownRhythm, padsState } from "../form/standing.js";
import { unlike } from "./tablet-margin.js";
import { captureNumbers, openTestOf } from "./tablet-numbers.js";
import { age, depthReadings, lastDepth } from "./tablet-panels.js";
import { paperLine } from "./tablet-paper-lines.js";

/**
 * Set out what stands now, each with its age: the numbers somebody takes over from.
 * @param {Bedside} bed
 * @param {string} time
 * @returns {HTMLElement}
 */
export function standingBlock(bed, time) {
  const { wires } = bed.now;
  const each = wires.flatMap((wire) => {
    const lines = wireLines({ ...bed, wire: wire.id });
    return wires.length > 1 ? [el("h3", {}, wire.name), ...lines] : lines;
  });
  return el(
    "section",
    { class: "paper-part paper-standing" },
    el("h2", {}, say("paper.standing")),
    el("p", {}, say("paper.as_at", { time })),
    stood(bed, say("stand.own_rhythm"), ownRhythm(bed.now)),
    stood(bed, say("stand.pads"), padsState(bed.now)),
    ...each,
  );
}

/** @param {Bedside} bed the wire is the one told of */
function wireLines(bed) {
  const { summary, ms } = captureNumbers(bed);
  const last = lastDepth(depthReadings(bed, ""));
  const left = summary?.shown.left_at ? `${summary.shown.left_at} ${summary.left_at?.unit ?? ""}` : "";
  const test = openTestOf(bed);
  const depth = last ? [`${last.said}${last.cm ? ` ${say(last.atHub ? "paper.at_hub" : "paper.elsewhere")}` : ""}`, last.result].filter(Boolean).join(", ") : say("depth.none");
  return [
    line(say("paper.depth"), depth, last ? age(bed, last.ms) : ""),
    stood(bed, say("stand.generator"), generatorState(bed.now, bed.wire, left)),
    test ? line(say("stand.test_settings"), test.setting, age(bed, test.since_ms)) : null,
    line(say("capture.threshold"), thresholdWords(summary), summary?.shown.threshold && !summary.retest && ms !== null ? age(bed, ms) : ""),
    line(say("capture.policy_asks"), summary?.shown.asks ? `${summary.shown.asks} ${summary.unit}` : unlike(summary) || say("capture.asks_none"), ""),
    line(say("capture.margin"), summary?.margin.shown || say("capture.unknown"), unlike(summary)),
  ].filter((one) => one !== null);
}

/** @param {import("../clinical/types.js").ThresholdSummary | null} summary */
function thresholdWords(summary) {
  if (!summary || (!summary.tests.length && !summary.retest)) return say("capture.not_tested");
  const { shown, unit } = summary;
  if (summary.retest) return `${say("capture.retest")}: ${say(`capture.retest.${summary.retest}`)}`;
  if (shown.threshold) return `${shown.threshold} ${unit}`;
  if (shown.at_most) return `≤ ${shown.at_most} ${unit}, ${say("capture.at_most")}`;
  return shown.none_up_to ? `${say("capture.unknown")}, ${say("capture.none_up_to", { output: `${shown.none_up_to} ${unit}` })}` : say("capture.unknown");
}

/** @param {Bedside} bed @param {string} name @param {import("../form/standing.js").Stood} what */
function stood(bed, name, { words, ms }) {
  return line(name, words, ms === null ? "" : elapsedWords(Math.floor((bed.clock() - ms) / 1000)));
}

/** @param {string} name @param {string} words @param {string} old */
function line(name, words, old) {
  return paperLine(name, el("p", {}, el("b", {}, words), " ", el("small", { class: "paper-by" }, old)));
}
