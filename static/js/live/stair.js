import { svg } from "../form/dom.js";
import { say } from "../form/say.js";

const LEAST_COLUMN = 30;

/** @typedef {{output: string, result: string}} OutputStep */
/** @typedef {{readings: OutputStep[], threshold: string | null, low: string | null, words: string}} StairOf */

/**
 * Draw the step-down: a column for each output reading, a rung for each value of the
 * dial that was called (equal rungs: 1.0 and 1.2 lie as far apart as 8 and 10).
 * Captures is a filled disc, no capture an open square, can't tell a dash.
 * @param {StairOf} stair outputs as decimal strings in mA, in the order read
 * @param {{width: number, height: number}} box px
 * @returns {SVGElement}
 */
export function stair({ readings, threshold, low, words }, { width, height }) {
  const most = Math.max(2, Math.floor((width - 10) / LEAST_COLUMN));
  const shown = readings.slice(-most);
  const earlier = readings.length - shown.length;
  const rungs = [...new Set(shown.map((step) => Number(step.output)))].sort((a, b) => b - a);
  const column = Math.min((width - 10) / Math.max(shown.length, 1), 70);
  const foot = 30;
  const gap = (height - foot - 32) / Math.max(rungs.length - 1, 1);
  const y = (/** @type {string} */ output) => 16 + rungs.indexOf(Number(output)) * gap;
  const x = (/** @type {number} */ at) => 5 + (at + 0.5) * column;
  return svg(
    "svg",
    { viewBox: `0 0 ${width} ${height}`, width, height, role: "img", "aria-label": words },
    ...bracket(threshold, low, rungs, gap, width),
    svg("path", { d: treads(shown, column, y), class: "stair-tread" }),
    ...shown.flatMap((step, at) => [
      ...sign(step.result, x(at), y(step.output)),
      svg("text", { x: x(at), y: height - 8, "text-anchor": "middle", class: "stair-figure" }, step.output),
    ]),
    earlier ? svg("text", { x: 6, y: 14, class: "stair-more" }, say("list.earlier", { count: earlier })) : null,
  );
}

/**
 * @param {OutputStep[]} shown
 * @param {number} column
 * @param {(output: string) => number} y
 */
function treads(shown, column, y) {
  return shown.map(({ output }, at) => `${at ? "L" : "M"}${5 + at * column} ${y(output)}H${5 + (at + 1) * column}`).join("");
}

/**
 * @param {string} result
 * @param {number} x
 * @param {number} y
 */
function sign(result, x, y) {
  if (result === "captures") return [svg("circle", { cx: x, cy: y, r: 8, class: "stair-captures" })];
  if (result === "no_capture") return [svg("rect", { x: x - 8, y: y - 8, width: 16, height: 16, class: "stair-none" })];
  return [
    svg("circle", { cx: x, cy: y, r: 8, class: "stair-unsure" }),
    svg("path", { d: `M${x - 4} ${y}h8`, class: "stair-dash" }),
  ];
}

/**
 * @param {string | null} threshold
 * @param {string | null} low
 * @param {number[]} rungs
 * @param {number} gap
 * @param {number} width
 */
function bracket(threshold, low, rungs, gap, width) {
  const [top, foot] = [rungs.indexOf(Number(threshold)), rungs.indexOf(Number(low))];
  if (threshold === null || low === null || top < 0 || foot < 0) return [];
  const from = 16 + Math.min(top, foot) * gap;
  return [svg("rect", { x: 0, y: from, width, height: Math.max(Math.abs(foot - top) * gap, 8), class: "stair-bracket" })];
}
