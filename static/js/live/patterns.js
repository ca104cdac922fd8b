import { svg } from "../form/dom.js";

/** The line on which all of them lie, and the box they are drawn in, in its own units. */
const LINE = 52;
const BOX = "4 11 118 85";
/** P and QRS stand apart: in heart block neither follows the other. */
const APART = `M54 ${LINE}h8`;

/**
 * @typedef {object} Wave Heights at one gain for all patterns, upwards positive.
 * @property {number} p first half of the P wave
 * @property {number} [p2] second half, where it has two
 * @property {number} r
 * @property {number} s
 * @property {number} [st] how far ST stands above the line
 */

/** domain 3: what the tip shows in each place. @type {{[result: string]: Wave}} */
const WAVES = {
  svc: { p: -9, r: 0, s: 10 },
  high_ra: { p: -34, r: 0, s: 15 },
  mid_ra: { p: 24, p2: -24, r: 8, s: 14 },
  low_ra: { p: 30, r: 11, s: 12 },
  ivc: { p: 7, r: 5, s: 4 },
  rv_free: { p: 5, r: 14, s: 42 },
  rv_contact: { p: 5, r: 10, s: 36, st: 30 },
  outflow_pa: { p: -8, r: 20, s: 7 },
};

/** A spike of the generator, and what answers it. @type {{[result: string]: string[]}} */
const PACED = {
  no_capture: [`M6 ${LINE}h28V16v36h86`],
  p_captured: [`M6 ${LINE}h28V16v36h8q11 -44 22 0h56`],
  qrs_captured: [`M6 ${LINE}h28V16v36h6c6 0 7 -34 15 -34c10 0 8 58 18 58c9 0 10 -30 22 -30q9 0 11 6h14`],
  twitch: [`M6 ${LINE}h28V16v36h8l5 -14l6 26l6 -30l6 30l6 -26l6 22l5 -8h38`],
};

/**
 * Draw a result as its key shows it: all patterns at one gain. None where a drawing would
 * say no more than the word.
 * @param {string} result as the catalogue names it
 * @param {string} guide
 * @returns {SVGElement | null}
 */
export function pattern(result, guide) {
  if (guide === "pacing") return drawn((PACED[result] ?? []).map((d) => svg("path", { d })));
  if (guide !== "intracardiac_ecg") return null;
  if (result === "unclear") return drawn([svg("path", { d: "M24 78L66 20M42 82L88 20M64 82L106 22", "stroke-dasharray": "1 8" })]);
  if (result === "no_complexes") return drawn([svg("path", { d: `M6 ${LINE}h114` })]);
  if (result === "above_rv") return drawn([qrs({ p: 0, r: 4, s: 12 })]);
  const wave = WAVES[result];
  return drawn(wave ? [svg("path", { d: APART, "stroke-dasharray": "1 7" }), svg("path", { d: pWave(wave) }), qrs(wave)] : []);
}

/** @param {Wave} wave */
function pWave({ p, p2 }) {
  if (p2) return `M6 ${LINE}h7q8 ${-2 * p} 16 0q8 ${-2 * p2} 16 0h5`;
  return `M6 ${LINE}h7q11 ${-2 * p} 22 0h10h5`;
}

/** @param {Wave} wave */
function qrs({ r, s, st = 0 }) {
  const tail = st ? `c7 ${-st * 0.5} 9 -8 17 -2c9 6 12 ${st} 20 ${st}` : "h6q8 -10 18 0h6";
  return svg("path", { d: `M66 ${LINE}h8l4 ${-r}l6 ${r + s}l6 ${-s - st}${tail}h6` });
}

/** @param {SVGElement[]} lines */
function drawn(lines) {
  return lines.length ? svg("svg", { viewBox: BOX, class: "adv-drawing", "aria-hidden": "true" }, ...lines) : null;
}
