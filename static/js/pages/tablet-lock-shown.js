/** @import { Shown } from "../sw-vault.js" */
/** @import { Bedside } from "../types-form.js" */
import { readCase } from "../form/case.js";
import { el } from "../form/dom.js";
import { say } from "../form/say.js";
import { settingOf } from "../form/today.js";
import { momentWords } from "../form/words.js";
import { exactMoment } from "../log/clock.js";
import { depthCell, marginCell, outputCell, thresholdCell } from "./tablet-far-cells.js";
import { isFinished } from "./tablet-finished.js";
import { openTestAnywhere } from "./tablet-numbers.js";
import { isRunning } from "./tablet-running.js";

const DASH = "–";
const NO_BREAK = "\u00a0";

/**
 * Return what a locked screen goes on showing of a case that runs: settings of a test that
 * nobody has read back, and the four numbers of the far view as they stood, with that
 * time; no name and no bay. Null without such a case.
 * @param {Bedside} bed
 * @returns {Promise<Shown | null>}
 */
export async function shownWhileLocked(bed) {
  if (!bed.record) return null;
  // What was kept a moment ago, in leaving, may not be drawn yet.
  const now = readCase(await bed.store.fold(bed.record), bed.index);
  if (!(await isRunningNow({ ...bed, now }))) return null;
  const told = await bed.store.settings();
  return linesOf({ ...bed, now }, told?.lock_shows_numbers ?? true);
}

/** @param {Bedside} bed @param {boolean} withNumbers the site's choice; a test that is open is told in any case @returns {Shown} */
function linesOf(bed, withNumbers) {
  const { today } = settingOf(bed);
  const timeOf = (/** @type {number} */ ms) => momentWords(exactMoment(ms, bed.store.zone()), today);
  const cells = [depthCell(bed, today), outputCell(bed), thresholdCell(bed), marginCell(bed)];
  const stood = say("lock.stood", { time: timeOf(bed.clock()) });
  return { lines: [...testLines(bed, timeOf), ...(withNumbers ? [stood, ...cells.map(wordsOf)] : [])] };
}

/** @param {Bedside} bed */
async function isRunningNow({ record, now, store, clock }) {
  const last_ms = Math.max(0, ...Object.values(now.fold.entries).map(({ time_ms }) => time_ms));
  return isRunning({ record, last_ms }, isFinished(now), await store.status(), clock());
}

/** It says since when: how long it is grows while nobody draws it. @param {Bedside} bed @param {(ms: number) => string} timeOf */
function testLines(bed, timeOf) {
  const open = openTestAnywhere(bed);
  if (!open) return [];
  const { seconds, setting } = open.test;
  const name = say("stand.test_settings");
  const since = seconds === null ? "" : say("lock.test_since", { time: timeOf(bed.clock() - seconds * 1000) });
  return [[name, setting, since].filter(Boolean).join(" · ")];
}

/** Name, figure, then what else is said of it; a dash once. @param {Element} cell */
function wordsOf(cell) {
  const told = ["b", ".far-figure", ".far-pattern", ".far-name span"].map((part) => textOf(cell.querySelector(part)));
  return told.filter((text, n) => text && (text !== DASH || told.indexOf(DASH) === n)).join(" · ");
}

/** @param {Element | null} drawn */
function textOf(drawn) {
  if (!drawn) return "";
  const copy = el("span", {}, drawn.cloneNode(true));
  for (const number of copy.querySelectorAll(".num")) number.replaceWith(plainNumber(number));
  const walk = document.createTreeWalker(copy, NodeFilter.SHOW_TEXT);
  const texts = [];
  while (walk.nextNode()) texts.push(walk.currentNode.nodeValue?.trim());
  return texts.filter(Boolean).join(" ");
}

/** A number drawn large has its point drawn too: in a line of text it is written. @param {Element} number */
function plainNumber(number) {
  const [part, unit] = [".num-part", ".num-unit"].map((css) => number.querySelector(css)?.textContent?.trim() ?? "");
  const whole = number.querySelector("b")?.textContent ?? "";
  return `${whole}${part && `.${part}`}${unit && NO_BREAK + unit}`;
}
