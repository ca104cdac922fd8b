/** @import { Status } from "../types.js" */
/** @import { Bedside } from "../types-form.js" */
import { el, fill, the } from "../form/dom.js";
import { say } from "../form/say.js";
import { settingOf } from "../form/today.js";
import { momentWords } from "../form/words.js";
import { exactMoment } from "../log/clock.js";
import { depthRuler } from "../live/depth.js";
import { num } from "../live/num.js";
import { sizeOf } from "../live/size.js";
import { timeRuler } from "../live/time.js";
import { ropeOf } from "./live-advance-rope.js";
import { age, depthReadings, lastDepth } from "./tablet-panels.js";
import { drawStand } from "./tablet-stand.js";
import { showStore } from "./tablet-store.js";
import { drawStrip } from "./tablet-strip.js";
import { thresholdTold } from "./tablet-threshold.js";
import { flagsOf, startOf } from "./tablet-time.js";
import { showMoments } from "./tablet-moments.js";
import { showWho } from "./tablet-who.js";

const LIVE = ["advance", "capture", "checks"];
/** Lower than this the ruler has no room for its scale. */
const LEAST_PX = 60;

/**
 * Draw what stands round every part: time, who, the standing row, depth.
 * @param {Bedside} bed
 * @param {string} part
 * @param {Status} status
 * @param {() => Promise<void>} keepWho
 * @param {import("../form/unfinished.js").Drafts} drafts
 */
export function drawFrame(bed, part, status, keepWho, drafts) {
  const { today } = settingOf(bed);
  drawTime(bed, startOf(bed.now, bed.clock()).ms, today);
  drawStatus(bed, part, status, keepWho, drafts);
  drawRope(bed, part, today);
}

/**
 * Draw the strip and the standing row: the part of the frame that tells what the log says
 * of itself.
 * @param {Bedside} bed
 * @param {string} part
 * @param {Status} status
 * @param {() => Promise<void>} keepWho
 * @param {import("../form/unfinished.js").Drafts} drafts
 */
export function drawStatus(bed, part, status, keepWho, drafts) {
  const { today } = settingOf(bed);
  const start = startOf(bed.now, bed.clock());
  drawStrip(the("#case-strip"), bed, status, {
    startMs: start.ms,
    isDecision: start.isDecision,
    number: part === "capture" ? depthFact(bed, today) : thresholdFact(bed),
    onWho: () => showWho(the("#who-sheet"), bed, (standing) => {
      bed.standing = standing;
      void keepWho();
    }),
    onStore: () => void showStore(the("#who-sheet"), bed),
    onMoments: () => void showMoments(the("#who-sheet"), bed, drafts),
  });
  drawStand(the("#stand"), bed, status);
}

/** @param {Bedside} bed @param {number} start @param {string} today */
function drawTime(bed, start, today) {
  const box = the("#case-time");
  const now = bed.clock();
  const nowWords = say("time.now", { time: momentWords(exactMoment(now, bed.store.zone()), today) });
  const flags = flagsOf(bed.now, today).filter(({ ms }) => ms >= start - 60_000);
  fill(box, timeRuler({ start, now, flags, nowWords }, sizeOf(box, bed.refresh).width));
}

/** @param {Bedside} bed @param {string} part @param {string} today */
function drawRope(bed, part, today) {
  const box = the("#rope");
  box.dataset.live = the("#case").dataset.live = LIVE.includes(part) ? "yes" : "no";
  const size = sizeOf(box, bed.refresh);
  if (!size.width || size.height < LEAST_PX) return;
  fill(box, depthRuler(ropeOf(bed, today), size));
}

/** @param {Bedside} bed @param {string} today */
function depthFact(bed, today) {
  const last = lastDepth(depthReadings(bed, today));
  if (!last) return standing(el("b", {}, "–"), say("depth.none"), say("depth.none"));
  const shown = last.cm ? num(last.cm, "cm", { text: true }) : el("b", {}, last.said);
  const value = el("span", {}, shown, ` · ${age(bed, last.ms)}`);
  return standing(value, last.result || say(last.atHub ? "depth.at_hub" : "depth.elsewhere"), say("depth.word"));
}

/** @param {Bedside} bed */
function thresholdFact(bed) {
  const { figure, unit, word, said, isTested } = thresholdTold(bed);
  if (!isTested) return standing(el("b", {}, word), say("capture.not_tested"), say("capture.not_tested"));
  const shown = figure === null ? el("b", {}, word) : num(figure, unit, { text: true });
  const value = el("span", {}, shown, figure !== null && said[0] ? ` · ${said[0]}` : "");
  return standing(value, [say("capture.threshold"), ...(figure === null ? said : said.slice(1))].join(", "), say("capture.threshold").toLowerCase());
}

/** @param {HTMLElement} value @param {string} name @param {string} word what it is, where there is no room for its name */
function standing(value, name, word) {
  return el("div", { class: "fact" }, el("span", { class: "fact-value" }, value), el("small", { class: "fact-name" }, name), el("small", { class: "fact-word" }, word));
}
