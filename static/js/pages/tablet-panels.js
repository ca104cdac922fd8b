/** @import { Bedside, RowRead } from "../types-form.js" */
import { point } from "../clinical/rows.js";
import { wirePath } from "../form/fields.js";
import { el, fill, key } from "../form/dom.js";
import { elapsedWords } from "../form/elapsed.js";
import { say } from "../form/say.js";
import { momentMs, timedRows } from "../form/standing.js";
import { momentWords, words } from "../form/words.js";
import { num } from "../live/num.js";

const LISTED = 4;
const LONG_WORD = 11;
const NOT_TOLD = "–";
const READING = "advance.depth_reading";

/** @typedef {{id: string, cm: string | null, said: string, result: string, code: string, atHub: boolean, ms: number, time: string, isStruck: boolean}} DepthReading */

/**
 * Return the depth readings of the page's wire in the order they happened.
 * @param {Bedside} bed
 * @param {string} today
 * @returns {DepthReading[]}
 */
export function depthReadings(bed, today) {
  if (!bed.wire) return [];
  const path = wirePath(bed.wire, READING);
  const order = timedRows(bed.now, [path]).map(({ row }) => row.id);
  const all = bed.now.rows(path, true).map((row) => readingOf(bed, path, row, today));
  return all.sort((a, b) => a.ms - b.ms || order.indexOf(a.id) - order.indexOf(b.id));
}

/**
 * Return the depth told last, figure or not: an older figure in its place would be
 * believed to be where the wire is now.
 * @param {DepthReading[]} all in the order they happened
 * @returns {DepthReading | undefined}
 */
export function lastDepth(all) {
  return all.findLast((reading) => !reading.isStruck && reading.said !== NOT_TOLD);
}

/**
 * Draw the depth read last, with what was seen there, its age and the readings before.
 * @param {HTMLElement} at
 * @param {Bedside} bed
 * @param {string} today
 * @param {() => void} add
 */
export function drawDepthPanel(at, bed, today, add) {
  const all = depthReadings(bed, today);
  const last = lastDepth(all);
  at.className = "panel panel-depth";
  fill(
    at,
    el(
      "div",
      { class: "panel-block" },
      el("p", { class: "panel-ask" }, say(last && !last.atHub ? "depth.elsewhere" : "depth.at_hub")),
      last && !last.cm ? asTold(last.said) : el("div", { class: "panel-number" }, last?.cm ? num(last.cm, "cm") : el("b", {}, NOT_TOLD)),
      el("p", { class: "panel-said" }, last ? age(bed, last.ms) : say("depth.none")),
    ),
    el(
      "div",
      { class: "panel-block" },
      el("p", { class: "panel-ask" }, say("depth.result")),
      el("p", { class: "panel-word", "data-long": (last?.result.length ?? 0) > LONG_WORD ? "" : null }, last ? last.result || "…" : "–"),
      el("div", { class: "panel-said" }, key(say("depth.add"), add, { "data-act": "add-depth", "data-weight": "first" })),
    ),
    list(all),
  );
}

/**
 * A depth without a figure, in its own words: they may be long, and stay in their block.
 * @param {string} said
 */
function asTold(said) {
  return el("p", { class: said.length > LONG_WORD ? "panel-told" : "panel-word", "data-long": "" }, said);
}

/** @param {DepthReading[]} all */
function list(all) {
  const shown = all.slice(-LISTED).reverse();
  const items = shown.map(({ time, said, result, isStruck }) =>
    el("li", { "data-struck": isStruck ? "" : null }, el("time", {}, time), el("b", {}, said), el("span", {}, result)),
  );
  const more = all.length - shown.length;
  if (more) items.push(el("li", { "data-more": "" }, el("span"), el("span"), say("list.earlier", { count: more })));
  return el("ol", { class: "panel-list", "aria-label": say("depth.list") }, ...items);
}

/** @param {Bedside} bed @param {string} path @param {RowRead} row @param {string} today */
function readingOf(bed, path, row, today) {
  const group = bed.now.index.at(path)?.field;
  const meta = bed.now.fold.entries[row.id];
  const told = (/** @type {string} */ name) => {
    const child = group?.children.find((field) => field.name === name);
    return child && row.value[name] !== undefined ? words(child, row.value[name]) : "";
  };
  const moment = row.value.moment;
  const isTimed = momentMs(moment) !== null;
  return {
    id: row.id,
    cm: point(row.value.depth, "cm").n,
    said: told("depth") || NOT_TOLD,
    result: told("result"),
    code: typeof row.value.result === "string" ? row.value.result : "",
    atHub: [undefined, "sheath_hub"].includes(/** @type {string | undefined} */ (row.value.read_at)),
    ms: momentMs(moment) ?? meta?.time_ms ?? 0,
    time: isTimed ? momentWords(/** @type {import("../types.js").JsonObject} */ (moment), today) : "",
    isStruck: row.struck !== null,
  };
}

/**
 * @param {Bedside} bed
 * @param {number} ms
 * @returns {string}
 */
export function age(bed, ms) {
  return elapsedWords(Math.floor((bed.clock() - ms) / 1000));
}
