/** @import { Band } from "../clinical/types-way.js" */
import { svg } from "../form/dom.js";
import { say } from "../form/say.js";

/** px between the columns of bands that lie over one another */
const BETWEEN = 4;
/** px: from here on a band is wide enough for its word */
const WORDED = 18;
/** px of a line of words */
const LINE = 19;

/** @typedef {{left: number, right: number, y: (cm: number) => number, isSlim: boolean}} Room where bands may stand, px */

/**
 * Draw where the tip is expected by depth. Bands that lie over one another stand side by
 * side: depth alone never says which it is.
 * @param {Band[]} bands
 * @param {Room} room
 * @returns {SVGElement[]}
 */
export function drawBands(bands, { left, right, y, isSlim }) {
  const columns = columnsOf(bands);
  const count = Math.max(1, ...columns.map((column) => column + 1));
  const width = (right - left - BETWEEN * (count - 1)) / count;
  return bands.flatMap(({ chamber, low_cm, high_cm }, at) => {
    const x = left + (columns[at] ?? 0) * (width + BETWEEN);
    const box = svg("rect", { x, y: y(low_cm) + 1.5, width, height: y(high_cm) - y(low_cm) - 3, class: "rope-band" });
    const word = svg(
      "text",
      { transform: `translate(${x + width / 2 + 6} ${(y(low_cm) + y(high_cm)) / 2}) rotate(-90)`, "text-anchor": "middle", class: "rope-word" },
      say(`rope.band.${chamber}`),
    );
    return isSlim || width < WORDED ? [box] : [box, word];
  });
}

/**
 * Draw the line from which the tip is too deep, and the words beside it.
 * @param {number} cm
 * @param {string} words a line each
 * @param {Room} room
 * @returns {SVGElement[]}
 */
export function drawLimit(cm, words, { left, right, y, isSlim }) {
  const line = svg("path", { d: `M${left}${" "}${y(cm)}H${right}`, class: "rope-limit" });
  if (isSlim) return [line];
  const lines = words.split("\n").map((text, at) => svg("text", { x: right, y: y(cm) + LINE * (at + 1), "text-anchor": "end", class: "rope-word" }, text));
  return [line, ...lines];
}

/**
 * Draw the line that moves with the wire: beyond it the tip went too far without a change.
 * @param {number} cm
 * @param {string} words
 * @param {Room} room
 * @returns {SVGElement[]}
 */
export function drawCoilLine(cm, words, { left, right, y, isSlim }) {
  const line = svg("path", { d: `M${left}${" "}${y(cm)}H${right}`, class: "rope-limit", "data-moving": "" });
  // It may lie over a band and its word.
  return isSlim ? [line] : [line, svg("text", { x: right, y: y(cm) - 5, "text-anchor": "end", class: "rope-word", "data-over": "" }, words)];
}

/**
 * Draw the faint tick of where the atrium may begin by height.
 * @param {number} cm
 * @param {Room} room
 */
export function drawTick(cm, { left, right, y }) {
  return svg("path", { d: `M${left}${" "}${y(cm)}H${right}`, class: "rope-height" });
}

/** Return the first column in which a band lies over no other. @param {Band[]} bands */
function columnsOf(bands) {
  /** @type {Band[][]} */
  const columns = [];
  return bands.map((band) => {
    const free = columns.findIndex((column) => column.every((other) => other.high_cm <= band.low_cm || band.high_cm <= other.low_cm));
    const at = free === -1 ? columns.length : free;
    columns[at] = [...(columns[at] ?? []), band];
    return at;
  });
}
