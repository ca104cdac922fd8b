/** @import { Bedside } from "../types-form.js" */
import { depthsTold } from "../clinical/depths_told.js";
import { shownOn } from "../clinical/dial.js";
import { dialInUse } from "../clinical/left_at.js";
import { point } from "../clinical/rows.js";
import { el } from "../form/dom.js";
import { wirePath } from "../form/fields.js";
import { say } from "../form/say.js";
import { childWords, timedRows } from "../form/standing.js";
import { num } from "../live/num.js";
import { unlike } from "./tablet-margin.js";
import { captureNumbers } from "./tablet-numbers.js";
import { age, depthReadings, lastDepth } from "./tablet-panels.js";
import { thresholdTold } from "./tablet-threshold.js";

const HUB = "sheath_hub";
/** Letters: a longer pattern takes two lines. */
const LONG_WORD = 14;
/** Signs of a number: one more does not fit beside its unit. */
const LONG_NUMBER = 5;

/**
 * Draw where the wire is, as told last, and what was seen there. A depth told without a
 * pattern stands alone: no picture pairs two readings.
 * @param {Bedside} bed
 * @param {string} today
 */
export function depthCell(bed, today) {
  const last = standingDepth(bed, today);
  const where = !last || last.atHub ? say("depth.at_hub") : say("far.elsewhere");
  const said = last ? [where, age(bed, last.ms)] : [say("depth.none")];
  const figure = last?.cm ? num(last.cm, "cm") : word(last?.said ?? "–");
  const pattern = last ? last.result || "…" : "–";
  return cell("depth", say("far.depth"), said, figure, el("p", { class: "far-pattern", "data-long": pattern.length > LONG_WORD ? "" : null }, pattern));
}

/** @param {Bedside} bed @param {string} today */
function standingDepth(bed, today) {
  const last = lastDepth(depthReadings(bed, today));
  const told = bed.wire ? depthsTold(bed.now.fold, bed.wire).findLast(({ depth }) => depth) : undefined;
  // The same depth told again is no other reading: what was seen there still stands.
  const isOther = told?.depth && !(last && (told.time_ms <= last.ms || told.depth.shown === last.cm));
  if (!isOther || !told.depth) return last;
  return { cm: told.depth.shown, said: told.depth.shown, result: "", atHub: told.depth.read_at === HUB, ms: told.time_ms };
}

/**
 * Draw the output: what the dial was left at, or called since.
 * @param {Bedside} bed
 */
export function outputCell(bed) {
  const left = lastOf(bed, "dial_left_at");
  const called = lastOf(bed, "output_reading");
  const isCalled = called !== undefined && (left === undefined || called.ms > left.ms);
  const last = isCalled ? called : left;
  const name = say(isCalled ? "far.called" : "capture.left_at");
  if (!last || !bed.wire) return cell("output", name, [say("capture.not_read")], word("–"));
  const { dial } = dialInUse(bed.now.fold, bed.wire);
  const [mA, volts] = [point(last.row.value.output, "mA").n, point(last.row.value.output_v, "V").n];
  const value = mA ?? volts;
  const told = childWords(bed.now, last);
  const figure = value === null ? word(told("output") || told("output_v")) : figureOf(shownOn(dial, value), mA === null ? "V" : "mA");
  return cell("output", name, [age(bed, last.ms)], figure);
}

/** @param {Bedside} bed @param {"dial_left_at" | "output_reading"} group */
function lastOf(bed, group) {
  const paths = bed.wire ? ["capture", "checks"].map((part) => wirePath(String(bed.wire), `${part}.${group}`)) : [];
  return timedRows(bed.now, paths).filter(({ row }) => "output" in row.value || "output_v" in row.value).at(-1);
}

/** @param {Bedside} bed */
export function thresholdCell(bed) {
  const { figure, unit, word: said, said: more, isTested } = thresholdTold(bed);
  return cell("threshold", say("capture.threshold"), isTested ? more : [say("far.not_tested")], figure === null ? word(said) : figureOf(figure, unit));
}

/** A margin is as old as the older of what it is made of. @param {Bedside} bed */
export function marginCell(bed) {
  const { summary, ms } = captureNumbers(bed);
  const name = say("capture.margin");
  const margin = summary?.margin;
  if (!summary?.left_at || !margin || margin.verdict === "unknown" || ms === null) return cell("margin", name, [unlike(summary)].filter(Boolean), word(say("capture.unknown")));
  const said = [age(bed, Math.min(ms, summary.left_at.time_ms)), margin.at_least ? say("far.at_least") : ""];
  const [times = "", unit = ""] = margin.shown.split(" ");
  return cell("margin", name, said, figureOf(times, unit));
}

/** @param {string} value @param {string} unit */
function figureOf(value, unit) {
  const made = num(value, unit);
  if (value.length > LONG_NUMBER) made.dataset.long = "";
  return made;
}

/** @param {string} words what stands where there is no figure */
function word(words) {
  return el("span", { class: "far-word", "data-long": words.length > LONG_WORD ? "" : null }, words);
}

/** @param {string} of @param {string} name @param {string[]} said @param {HTMLElement} figure @param {HTMLElement} [below] */
function cell(of, name, said, figure, below) {
  const line = said.filter(Boolean).join(" · ");
  return el("div", { class: "far-cell", "data-of": of }, el("p", { class: "far-name" }, el("b", {}, name), " ", el("span", {}, line)), el("p", { class: "far-figure" }, figure), below);
}
