import { svg } from "../form/dom.js";

const MOST = 3.4;
/** px: words nearer to each other could not be read. */
const LEAST_APART = 19;

/** @typedef {{times: number, floor: number, goal: number, isRead: boolean, words: string, note: string}} MarginOf */

/**
 * Draw the margin ruler standing up: filled to the dial as a multiple of the threshold,
 * marks at the policy's floor and goal. Dashed while nobody has read the dial back.
 * @param {MarginOf} margin `times` only places the fill; its words are drawn elsewhere
 * @param {{width: number, height: number}} box px
 * @returns {SVGElement}
 */
export function marginRuler({ times, floor, goal, isRead, words, note }, { width, height }) {
  const foot = height - 26;
  const y = (/** @type {number} */ multiple) => foot - (Math.min(multiple, MOST) / MOST) * (foot - 8);
  const bar = { x: 12, width: 26 };
  return svg(
    "svg",
    { viewBox: `0 0 ${width} ${height}`, width, height, role: "img", "aria-label": words },
    svg("rect", { ...bar, y: y(MOST), height: foot - y(MOST), class: "margin-frame" }),
    svg("rect", { ...bar, y: y(times), height: foot - y(times), class: "margin-fill", "data-not-yet": isRead ? null : "" }),
    ...marks([[1, "1 ×"], [floor, `${floor} ×`], [goal, `${goal} ×`]], y),
    svg("text", { x: 6, y: height - 4, class: "margin-note" }, note),
  );
}

/**
 * @param {[number, string][]} list
 * @param {(multiple: number) => number} y
 */
function marks(list, y) {
  let above = Infinity;
  return list.flatMap(([multiple, word]) => {
    above = Math.min(y(multiple) + 6, above - LEAST_APART);
    return [svg("path", { d: `M6 ${y(multiple)}h38`, class: "margin-mark" }), svg("text", { x: 52, y: above, class: "margin-word" }, word)];
  });
}
