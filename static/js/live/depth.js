import { svg } from "../form/dom.js";
import { say } from "../form/say.js";

const TOP_CM = 9;
const MOST_BEADS = 40;
/** px: below it only the wire is drawn */
const SMALL = 58;

/** @typedef {{cm: number, atHub: boolean}} Bead */
/** @typedef {{beads: Bead[], lengthCm: number, hasRings: boolean, words: string, isAdrift?: boolean}} DepthRuler isAdrift: the last depth told has no figure */

/**
 * Draw the depth ruler: sheath hub, scale, a bead for each reading, the wire to the
 * last one with its tip as a sounding lead. Rings lie n × 10 cm from the tip and so
 * travel with it; without a known wire there are none. A reading not made at the hub
 * is dashed: it is not on this scale. Where the tip is not known no wire is drawn.
 * @param {DepthRuler} ruler depths in cm, in the order read
 * @param {{width: number, height: number}} box px
 * @returns {SVGElement}
 */
export function depthRuler({ beads, lengthCm, hasRings, words, isAdrift = false }, { width, height }) {
  const slim = width < 100;
  const x = width * (slim ? 0.5 : 0.46);
  const step = (height - 34) / (lengthCm + 10);
  const y = (/** @type {number} */ cm) => 16 + (cm + TOP_CM) * step;
  const tip = isAdrift ? null : beads.at(-1);
  return svg(
    "svg",
    { viewBox: `0 0 ${width} ${height}`, width, height, role: "img", "aria-label": words },
    svg("rect", { x: 0, y: y(0), width, height: height - y(0), class: "rope-sea" }),
    ...scale(lengthCm, x, y, slim),
    svg("path", { d: `M0 ${y(0)}H${x - 12}M${x + 12} ${y(0)}H${width}`, class: "rope-hub" }),
    slim ? null : svg("text", { x: 8, y: y(0) - 9, class: "rope-word" }, say("depth.hub")),
    ...(tip ? wire(tip, x, y, hasRings && step > 3) : []),
    ...(width < SMALL ? [] : beads).slice(-MOST_BEADS).map((bead) => beadAt(bead, x, y)),
  );
}

/**
 * @param {number} lengthCm
 * @param {number} x
 * @param {(cm: number) => number} y
 * @param {boolean} slim
 */
function scale(lengthCm, x, y, slim) {
  const marks = [];
  for (let cm = 0; cm <= lengthCm; cm += 5) {
    marks.push(svg("path", { d: `M${x - 18} ${y(cm)}h${cm % 10 ? 9 : 13}`, class: "rope-tick" }));
    if (cm % 10 || !cm || slim) continue;
    marks.push(svg("text", { x: x - 26, y: y(cm) + 7, "text-anchor": "end", class: "rope-figure" }, String(cm)));
  }
  return marks;
}

/**
 * @param {Bead} tip
 * @param {number} x
 * @param {(cm: number) => number} y
 * @param {boolean} ringed
 */
function wire({ cm, atHub }, x, y, ringed) {
  const end = y(cm);
  const state = { "data-not-yet": atHub ? null : "" };
  return [
    svg("path", { d: `M${x} 0V${end - 20}`, class: "rope-wire", ...state }),
    ...(ringed ? rings(cm, x, y) : []),
    svg("path", { d: `M${x - 6} ${end - 28}h12l7 22q-13 12 -26 0z`, class: "rope-tip", ...state }),
  ];
}

/**
 * One ring at 10 cm from the tip, two at 20, up to four at 40; beyond that is kit data.
 * @param {number} tip
 * @param {number} x
 * @param {(cm: number) => number} y
 */
function rings(tip, x, y) {
  return [10, 20, 30, 40].flatMap((from) => {
    const at = tip - from;
    if (at < -TOP_CM) return [];
    const count = from / 10;
    return Array.from({ length: count }, (_, n) =>
      svg("rect", { x: x - 11, y: y(at) - 1.8 + (n - (count - 1) / 2) * 7, width: 22, height: 3.6, class: "rope-ring" }),
    );
  });
}

/**
 * @param {Bead} bead
 * @param {number} x
 * @param {(cm: number) => number} y
 */
function beadAt({ cm, atHub }, x, y) {
  return svg("circle", { cx: x + 20, cy: y(cm), r: 5, class: "rope-bead", "data-not-yet": atHub ? null : "" });
}
