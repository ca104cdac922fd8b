import { el, svg } from "../form/dom.js";
import { pattern } from "./patterns.js";

/** Shapes of the scripted monitor, on a line of 90 x 60. */
const OWN = "M0 40h20q4 -7 8 0h6l3 4l5 -26l5 30l3 -8h8q7 -10 14 0h18";
const CAPTURED = "M0 40h14v-28v28h4q5 -34 14 0q6 18 14 0h6q9 -8 16 0h22";
const NOT_CAPTURED = "M0 40h14v-28v28h76";
const RUNS = "M0 40h6q6 -34 11 0q6 26 11 0q6 -34 11 0q6 26 11 0q6 -34 11 0q6 26 11 0h7";

/**
 * Draw what the monitor of a scripted patient shows: never by name, as no monitor does.
 * @param {import("../rehearsal/patient.js").Monitor} shown
 * @param {string} words spoken
 * @returns {HTMLElement}
 */
export function monitor(shown, words) {
  const beats = [beat(shown), beat(shown)];
  return el("span", { class: "monitor-strip", role: "img", "aria-label": words, "data-shows": shown.shows, "data-captures": shown.captures === null ? null : String(shown.captures) }, ...beats);
}

/** @param {import("../rehearsal/patient.js").Monitor} shown @returns {Element} */
function beat({ shows, pattern: name, captures }) {
  const strip = shows === "pattern" && name ? pattern(name, "intracardiac_ecg") : null;
  if (strip) return strip;
  const d = shows === "runs" ? RUNS : shows !== "paced" ? OWN : captures ? CAPTURED : NOT_CAPTURED;
  return svg("svg", { viewBox: "0 0 90 60", "aria-hidden": "true" }, svg("path", { d }));
}
