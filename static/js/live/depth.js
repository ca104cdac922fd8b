/** @import { Band } from "../clinical/types-way.js" */
import { svg } from "../form/dom.js";
import { say } from "../form/say.js";
import { drawBands, drawCoilLine, drawLimit, drawTick } from "./depth-bands.js";
import { ringOutside, ringsAt } from "./rings.js";

const TOP_CM = 9;
const MOST_BEADS = 40;
/** px: below it only the wire is drawn */
const SMALL = 58;
/** px: below it words have no room */
const SLIM = 100;
/** px a letter: words of the rings that are longer than their room stand on more lines */
const LETTER = 8;
/** px from one of their lines to the next, and the least above the first */
const [BETWEEN, ABOVE] = [20, 13];
/** px a cm: below it rings would run into one another */
const RINGED = 3;

/** @typedef {{cm: number, atHub: boolean}} Bead */
/**
 * @typedef {object} DepthRuler
 * @property {Bead[]} beads depths in cm, in the order read
 * @property {number} lengthCm
 * @property {boolean} hasRings
 * @property {string} words
 * @property {boolean} [isAdrift] the last depth told has no figure
 * @property {string | null} [wireCm] length of the wire
 * @property {Band[]} [bands]
 * @property {number | null} [limitCm]
 * @property {string} [limitWords] a line each
 * @property {number | null} [tickCm]
 * @property {{cm: number, words: string} | null} [coil] beyond it the tip went too far without a change
 */

/**
 * Draw the depth ruler: sheath hub, scale, bands, a bead for each reading, the wire to the
 * last one with its tip as a sounding lead. Rings lie n × 10 cm from the tip and so
 * travel with it; without a known wire there are none. A reading not made at the hub
 * is dashed: it is not on this scale. Where the tip is not known no wire is drawn.
 * @param {DepthRuler} ruler
 * @param {{width: number, height: number}} box px
 * @returns {SVGElement}
 */
export function depthRuler(ruler, { width, height }) {
  const { beads, hasRings, words, isAdrift = false, wireCm = null, bands = [], limitCm = null, limitWords = "", tickCm = null, coil = null } = ruler;
  const deepest = Math.max(ruler.lengthCm, ...beads.map(({ cm }) => Math.ceil(cm / 10) * 10));
  const slim = width < SLIM;
  const x = width * (slim ? 0.5 : 0.4);
  const step = (height - 34) / (deepest + 10);
  const y = (/** @type {number} */ cm) => 16 + (cm + TOP_CM) * step;
  const tip = isAdrift ? null : beads.at(-1);
  const room = { left: x + (slim ? 21 : 27), right: width - 3, y, isSlim: slim };
  const isRinged = hasRings && step > RINGED;
  return svg(
    "svg",
    { viewBox: `0 0 ${width} ${height}`, width, height, role: "img", "aria-label": words },
    svg("rect", { x: 0, y: y(0), width, height: height - y(0), class: "rope-sea" }),
    ...(width < SMALL ? [] : drawBands(bands, room)),
    tickCm === null ? null : drawTick(tickCm, { ...room, left: x + 6 }),
    ...scale(deepest, x, y, slim),
    svg("path", { d: `M0 ${y(0)}H${x - 12}M${x + 12} ${y(0)}H${width}`, class: "rope-hub" }),
    slim ? null : svg("text", { x: 6, y: y(0) - 9, class: "rope-word" }, say("depth.hub")),
    ...(limitCm === null ? [] : drawLimit(limitCm, limitWords, { ...room, left: x - 18 })),
    ...(coil ? drawCoilLine(coil.cm, coil.words, { ...room, left: x - 18 }) : []),
    ...(tip ? wire(tip, x, y, isRinged ? wireCm : undefined) : []),
    ...(tip && isRinged && !slim && tip.atHub ? ringWords(tip.cm, wireCm, x + 16, y, width - x - 16) : []),
    ...(width < SMALL ? [] : beads).slice(-MOST_BEADS).map((bead) => beadAt(bead, x + (slim ? 14 : 19), y)),
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
    marks.push(svg("text", { x: x - 23, y: y(cm) + 7, "text-anchor": "end", class: "rope-figure" }, String(cm)));
  }
  return marks;
}

/**
 * @param {Bead} tip
 * @param {number} x
 * @param {(cm: number) => number} y
 * @param {string | null} [wireCm] its length, null where not known; undefined: no rings
 */
function wire({ cm, atHub }, x, y, wireCm) {
  const end = y(cm);
  const state = { "data-not-yet": atHub ? null : "" };
  return [
    svg("path", { d: `M${x} 0V${Math.max(0, end - 20)}`, class: "rope-wire", ...state }),
    ...(wireCm === undefined ? [] : ringsAt(String(cm), wireCm).flatMap((ring) => marksOf(ring, x, y))),
    svg("path", { d: `M${x - 6} ${end - 28}h12l7 22q-13 12 -26 0z`, class: "rope-tip", ...state }),
  ];
}

/**
 * One mark at 10 cm from the tip, two at 20, up to four at 40; what a kit shows farther up
 * is not known, only where: an open mark.
 * @param {import("./rings.js").Ring} ring
 * @param {number} x
 * @param {(cm: number) => number} y
 */
function marksOf({ n, cm }, x, y) {
  const at = Number(cm);
  if (at < -TOP_CM) return [];
  if (n > 4) return [svg("rect", { x: x - 11, y: y(at) - 5, width: 22, height: 10, class: "rope-ring", "data-ring": n, "data-open": "" })];
  return Array.from({ length: n }, (_, mark) =>
    svg("rect", { x: x - 11, y: y(at) - 1.8 + (mark - (n - 1) / 2) * 7, width: 22, height: 3.6, class: "rope-ring", "data-ring": n }),
  );
}

/**
 * What is to be seen at the hub when the depth is right: "4 rings, 6 cm out".
 * @param {number} tip
 * @param {string | null} wireCm
 * @param {number} x
 * @param {(cm: number) => number} y
 * @param {number} room px
 */
function ringWords(tip, wireCm, x, y, room) {
  const seen = ringOutside(String(tip), wireCm);
  if (!seen) return [];
  const words = [say(ringKey(seen), { n: seen.n, from: seen.n * 10 }), say(seen.out === "0" ? "rope.at_hub" : "rope.out", { cm: seen.out })];
  const lines = words.flatMap((line) => (line.length * LETTER > room ? line.replace(/ (?=\S+$)/, "\n") : line).split("\n"));
  // However many they are, they end above the hub.
  const gap = Math.min(BETWEEN, (y(0) - 6 - ABOVE) / (lines.length - 1));
  const top = Math.min(y(-TOP_CM / 2) - 5, y(0) - 6 - (lines.length - 1) * gap);
  return lines.map((text, at) => svg("text", { x, y: top + at * gap, class: "rope-word", "data-rings": "" }, text));
}

/** @param {{n: number, isCounted: boolean}} seen */
function ringKey({ n, isCounted }) {
  if (!isCounted) return "rope.mark";
  return n === 1 ? "rope.ring" : "rope.rings";
}

/**
 * @param {Bead} bead
 * @param {number} x
 * @param {(cm: number) => number} y
 */
function beadAt({ cm, atHub }, x, y) {
  return svg("circle", { cx: x, cy: y(cm), r: 5, class: "rope-bead", "data-not-yet": atHub ? null : "" });
}
