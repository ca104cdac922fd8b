import { svg } from "../form/dom.js";

const BODY = "M11 3h8l7 19q-11 9 -22 0z";
const LOW = "M7.7 13h14.6l3.7 9q-11 9 -22 0z";
/** @type {{[weight: string]: string}} */
const FILLS = { look_again: LOW, look_now: BODY };

/**
 * Draw a remark's weight as a sounding lead: hollow fits, half look again, solid look
 * now. A word always stands beside it.
 * @param {string} weight "fits" | "look_again" | "look_now"
 * @returns {SVGElement}
 */
export function lead(weight) {
  const fill = FILLS[weight];
  const outline = { d: BODY, fill: "none", stroke: "currentColor", "stroke-width": 2.8, "stroke-linejoin": "round" };
  return svg(
    "svg",
    { viewBox: "0 0 30 30", class: "lead", "aria-hidden": "true" },
    fill ? svg("path", { d: fill, fill: "currentColor" }) : null,
    svg("path", outline),
  );
}
