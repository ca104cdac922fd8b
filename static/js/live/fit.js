import { svg } from "../form/dom.js";
import { say } from "../form/say.js";

/** French is three times a diameter in mm, by definition. */
const FR_PER_MM = 3;
const BOX = { width: 250, height: 150 };
const MIDDLE = { x: 75, y: 75 };
/** px: so wide is the wider of the two. */
const WIDEST_PX = 132;
/** Less is not drawn larger: its millimetre would not have room beside it. */
const LEAST_FR = 5;

/**
 * Return how many px a millimetre is, so that the wider circle fills its place.
 * @param {(string | null)[]} sizes French; null: not said
 */
export function pxPerMm(sizes) {
  const widest = Math.max(LEAST_FR, ...sizes.map(Number));
  return WIDEST_PX * (FR_PER_MM / widest);
}

/**
 * Return the radius, px, of a circle that is so many French across.
 * @param {string} fr
 * @param {number} scale px per mm
 */
export function radiusPx(fr, scale) {
  return (Number(fr) * scale) / (2 * FR_PER_MM);
}

/**
 * Draw a wire in its sheath, cut across, both to one scale with a millimetre beside them.
 * A size that is not said is not drawn; a wire wider than its sheath is dashed.
 * @param {{sheathFr: string | null, wireFr: string | null, sheathMm: string | null, wireMm: string | null, passes: boolean}} kit
 * @returns {SVGElement}
 */
export function fitDrawing({ sheathFr, wireFr, sheathMm, wireMm, passes }) {
  const { x, y } = MIDDLE;
  const scale = pxPerMm([sheathFr, wireFr]);
  const words = say("kit.drawn", { sheath: sheathMm ?? say("kit.not_said"), wire: wireMm ?? say("kit.not_said") });
  const circle = (/** @type {string} */ fr, /** @type {string} */ css, /** @type {boolean} */ isAdrift = false) =>
    svg("circle", { cx: x, cy: y, r: radiusPx(fr, scale), class: css, "data-not-yet": isAdrift ? "" : null });
  return svg(
    "svg",
    { viewBox: `0 0 ${BOX.width} ${BOX.height}`, width: BOX.width, height: BOX.height, role: "img", "aria-label": words },
    sheathFr ? circle(sheathFr, "kit-sheath") : null,
    wireFr ? circle(wireFr, "kit-wire", !passes) : null,
    sheathFr || wireFr ? svg("path", { d: `M160 128h${scale}M160 121v14M${160 + scale} 121v14`, class: "kit-scale" }) : null,
    sheathFr || wireFr ? svg("text", { x: 160, y: 114, class: "kit-word" }, say("kit.millimetre")) : null,
  );
}
