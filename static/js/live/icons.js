import { svg } from "../form/dom.js";

/** @type {{[name: string]: string[]}} */
const PATHS = {
  tablet: ["M8 2h14a3 3 0 0 1 3 3v20a3 3 0 0 1-3 3H8a3 3 0 0 1-3-3V5a3 3 0 0 1 3-3z", "M10 15l4 4 7-9"],
  server: ["M4 6h22v7H4z", "M4 17h22v7H4z", "M8 9.5h2", "M8 20.5h2"],
};

/**
 * Draw one of our own signs. Its word always stands beside it.
 * @param {"tablet" | "server"} name
 * @returns {SVGElement}
 */
export function icon(name) {
  const lines = (PATHS[name] ?? []).map((d) => svg("path", { d }));
  const look = { fill: "none", stroke: "currentColor", "stroke-width": 2.6, "stroke-linecap": "round", "stroke-linejoin": "round" };
  return svg("svg", { viewBox: "0 0 30 30", "aria-hidden": "true", ...look }, ...lines);
}
