/** @import { Bedside } from "../types-form.js" */
/** @import { Policy, ThresholdSummary } from "../clinical/types.js" */
import { el } from "../form/dom.js";
import { say } from "../form/say.js";
import { marginRuler } from "../live/margin.js";

const RULER = { width: 130, height: 150 };

/**
 * Say why two outputs are not comparable, where that makes the margin unknown, else "".
 * @param {ThresholdSummary | null} summary
 * @returns {string}
 */
export function unlike(summary) {
  const why = summary?.margin.why;
  return why ? say(`capture.unlike.${why}`) : "";
}

/**
 * Draw the margin. One that is unknown is a word, not a ruler.
 * @param {Bedside} bed
 * @param {ThresholdSummary | null} summary
 * @param {{width: number, height: number}} [size] px
 * @param {boolean} [isTestOpen] what was left before a test is not what the generator reads now
 * @returns {HTMLElement}
 */
export function ruler(bed, summary, size = RULER, isTestOpen = false) {
  const box = el("div", { class: "panel-chart", "data-chart": "margin" });
  const left = isTestOpen ? null : summary?.left_at?.output;
  const isRead = Boolean(left);
  const isUnknown = isRead && summary?.margin.verdict === "unknown";
  const [at, under] = [left ?? summary?.asks.output, summary?.threshold];
  if (!summary || !at || !under || isUnknown) {
    const why = unlike(summary);
    const words = [el("p", { class: "panel-ask" }, say("capture.margin")), el("p", { class: "panel-none" }, say("capture.unknown"))];
    box.append(...words, ...(why ? [el("p", { class: "panel-said" }, why)] : []));
    return box;
  }
  const rows = /** @type {Policy} */ (/** @type {unknown} */ (bed.policy)).rows;
  const [floor, goal] = [Number(rows.threshold_margin_floor?.value ?? 2), Number(summary.asks.multiple ?? rows.threshold_margin_target?.value ?? 2.5)];
  const words = isRead ? say("capture.margin_spoken", { margin: summary.margin.shown }) : say("capture.not_read");
  box.append(marginRuler({ times: Number(at) / Number(under), floor, goal, isRead, words, note: isRead ? summary.margin.shown : say("capture.not_read") }, size));
  return box;
}
