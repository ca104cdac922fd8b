/** @import { Bedside } from "../types-form.js" */
/** @import { Tested, ThresholdSummary } from "../clinical/types.js" */
import { shownOn } from "../clinical/dial.js";
import { firstSettingsOf } from "../clinical/first_settings.js";
import { dialInUse } from "../clinical/left_at.js";
import { point } from "../clinical/rows.js";
import { toldOf } from "../clinical/told.js";
import { wirePath } from "../form/fields.js";
import { el, fill, key } from "../form/dom.js";
import { say } from "../form/say.js";
import { childWords, timedRows } from "../form/standing.js";
import { num } from "../live/num.js";
import { stair } from "../live/stair.js";
import { ruler, unlike } from "./tablet-margin.js";
import { captureNumbers, isOfTestBefore, isStillSought } from "./tablet-numbers.js";
import { age } from "./tablet-panels.js";
import { policyOf } from "./tablet-remarks.js";

const CHART = { width: 340, height: 150 };

/**
 * Draw dial left at, threshold and what policy asks, with the readings and the margin.
 * What is computed is dashed until somebody has read it off the generator.
 * @param {HTMLElement} at
 * @param {Bedside} bed
 * @param {(HTMLElement | null)[]} [below] what stands under them
 */
export function drawCapturePanel(at, bed, below = []) {
  const { summary, ms } = captureNumbers(bed);
  at.className = "panel panel-capture";
  fill(at, leftAt(bed, summary), threshold(bed, summary, ms), policyAsks(bed, summary), steps(bed, summary), ruler(bed, summary), ...below);
}

/**
 * The two rows that are added most.
 * @param {string} part capture or checks
 * @param {(path: string) => void} add
 * @returns {HTMLElement[]}
 */
export function captureKeys(part, add) {
  return [
    key(say("capture.add_test"), () => add(`${part}.threshold_test`), { "data-act": "add-test", "data-of": part }),
    key(say("capture.add_left_at"), () => add(`${part}.dial_left_at`), { "data-act": "add-left-at", "data-of": part }),
  ];
}

/** @param {string} ask @param {HTMLElement} value @param {string} said @param {boolean} [isGhost] */
function figureBlock(ask, value, said, isGhost = false) {
  return el(
    "div",
    { class: "panel-block", "data-not-yet": isGhost ? "" : null },
    el("p", { class: "panel-ask" }, ask),
    el("div", { class: "panel-number", "data-long": long(value) }, value),
    el("p", { class: "panel-said" }, said),
  );
}

/** What makes a number wider than its place. @param {HTMLElement} value */
function long(value) {
  const shown = value.querySelector("[aria-hidden]")?.textContent ?? "";
  const isLong = shown.replace(/\D/g, "").length > 2;
  return shown.startsWith("≤") ? (isLong ? "both" : "at_most") : isLong ? "figures" : null;
}

/** @param {string} words */
function none(words) {
  return el("p", { class: "panel-none" }, words);
}

/** @param {Bedside} bed @param {ThresholdSummary | null} summary */
function leftAt(bed, summary) {
  const left = summary?.left_at;
  const shown = summary?.shown.left_at;
  if (!left || !shown) return figureBlock(say("capture.left_at"), el("b", {}, "–"), say("capture.not_read"));
  const margin = summary.margin.shown;
  const said = margin ? `${age(bed, left.time_ms)} · ${say("capture.margin").toLowerCase()} ${[margin, unlike(summary)].filter(Boolean).join(", ")}` : age(bed, left.time_ms);
  return figureBlock(say("capture.left_at"), num(shown, left.unit), said);
}

/**
 * The threshold as it stands, with its age; a word where there is none.
 * @param {Bedside} bed @param {ThresholdSummary | null} summary @param {number | null} ms when it was tested
 */
export function threshold(bed, summary, ms) {
  const name = say("capture.threshold");
  const shown = summary?.shown ?? {};
  const before = isOfTestBefore(bed, summary) ? `${say("capture.test_before")} · ` : "";
  const since = ms === null ? before : `${before}${age(bed, ms)} · `;
  if (!summary || (!summary.tests.length && !summary.retest)) return figureBlock(name, el("b", {}, "–"), say("capture.not_tested"));
  if (summary.retest) return figureBlock(name, none(say("capture.retest")), say(`capture.retest.${summary.retest}`));
  if (shown.threshold) {
    const low = summary.bracket ? say("capture.between", { low: shown.low ?? "" }) : "";
    return figureBlock(name, num(shown.threshold, summary.unit), `${since}${low}`);
  }
  if (shown.at_most) return figureBlock(name, num(`≤ ${shown.at_most}`, summary.unit), `${since}${say(isStillSought(bed, summary) ? "capture.at_most_yet" : "capture.at_most")}`);
  const upTo = shown.none_up_to ? say("capture.none_up_to", { output: `${shown.none_up_to} ${summary.unit}` }) : say("capture.not_tested");
  return figureBlock(name, none(say("capture.unknown")), upTo);
}

/** Before any reading, what policy asks first; never set anywhere. @param {Bedside} bed */
function firstWords(bed) {
  const rows = captureRows(bed);
  const first = rows.length ? null : firstSettingsOf(bed.now.fold, toldOf(bed.now.fold, policyOf(bed), null).limits);
  if (!first) return "";
  const kind = !first.is_emergency ? "urgent" : first.sensitivity === null ? "emergency_asynchronous" : "emergency";
  const { rate_low, rate_high, output, mode, sensitivity } = first;
  return say(`clinical.first.${kind}`, { rate_low, rate_high, output: output ?? "", mode, sensitivity: sensitivity ?? "" });
}

/** @param {Bedside} bed */
function captureRows(bed) {
  const paths = bed.wire ? ["capture", "checks"].map((part) => wirePath(String(bed.wire), `${part}.output_reading`)) : [];
  return timedRows(bed.now, paths);
}

/** What policy asks, dashed: nobody has set it. @param {Bedside} bed @param {ThresholdSummary | null} summary */
export function policyAsks(bed, summary) {
  const shown = summary?.shown.asks;
  if (!summary || !shown) return figureBlock(say("capture.policy_asks"), el("b", {}, "–"), unlike(summary) || firstWords(bed) || say("capture.asks_none"));
  const said = summary.asks.multiple ? say("capture.multiple", { multiple: summary.asks.multiple }) : "";
  return figureBlock(say("capture.policy_asks"), num(shown, summary.unit), said, true);
}

/**
 * The readings of one test, as steps, with its own threshold and bracket.
 * @param {Bedside} bed
 * @param {ThresholdSummary | null} summary
 * @param {{width: number, height: number}} [size] px
 * @param {Tested | null} [open] the test being made; else the one that counts
 */
export function steps(bed, summary, size = CHART, open = null) {
  const test = open ?? summary?.tests.find((one) => one.told.id === summary.counted) ?? summary?.tests.at(-1);
  const rows = captureRows(bed).filter(({ row }) => !test?.told.id || row.value.of === test.told.id);
  const dial = bed.wire ? dialInUse(bed.now.fold, bed.wire).dial : null;
  const told = rows.map((row) => {
    const said = childWords(bed.now, row);
    const output = point(row.row.value.output, "mA").n ?? point(row.row.value.output_v, "V").n;
    return { output: output === null || !dial ? "" : shownOn(dial, output), result: String(row.row.value.result ?? ""), words: `${said("output") || said("output_v")} ${said("result")}` };
  }).filter(({ output }) => output !== "");
  const box = el("div", { class: "panel-chart", "data-chart": "stair" });
  if (!told.length) box.append(el("p", { class: "panel-ask" }, say("capture.stair_none")));
  else {
    const words = say("capture.stair_spoken", { count: told.length, told: told.map((one) => one.words).join(", ") });
    const onDial = (/** @type {string | null | undefined} */ value) => (value && dial ? shownOn(dial, value) : undefined);
    const { threshold, low } = open ? { threshold: onDial(open.result.threshold), low: onDial(open.result.bracket?.low) } : (summary?.shown ?? {});
    box.append(stair({ readings: told, threshold: threshold ?? null, low: low ?? null, words }, size));
  }
  return box;
}
