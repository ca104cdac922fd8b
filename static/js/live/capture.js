import { svg } from "../form/dom.js";

const RESULTS = {
  // A spike with a wide complex and its T wave; a spike with nothing after it.
  captures: "M4 34h26v-28v28h8c6 0 8-26 16-26s8 40 18 40 10-16 20-16 8 2 14 2h26",
  no_capture: "M4 34h26v-28v28h102",
};

/**
 * Draw what the monitor shows after the spike. Whoever uses it names it in words beside.
 * @param {"captures" | "no_capture"} result
 * @returns {SVGElement}
 */
export function paced(result) {
  return svg("svg", { viewBox: "0 0 136 52", class: "cap-trace", "aria-hidden": "true" }, svg("path", { d: RESULTS[result] }));
}

/** @typedef {"yes" | "no" | "not_known" | "not_asked" | "two_answers"} Wired */

/**
 * Draw the generator with its two ports, the ventricular one in use, and the wire's tip and
 * ring: what is said to be so is a whole line, what is not is dashed.
 * @param {{port: Wired, tip: Wired, ring: Wired, atrial: Wired}} said
 * @param {{generator: string, atrial: string, ventricular: string, tip: string, ring: string, words: string}} words
 * @returns {SVGElement}
 */
export function wiring({ port, tip, ring, atrial }, words) {
  const text = (/** @type {number} */ x, /** @type {number} */ y, /** @type {string} */ said, anchor = "start") => svg("text", { x, y, "text-anchor": anchor, class: "cap-wire-word" }, said);
  return svg(
    "svg",
    { viewBox: "0 0 300 288", class: "cap-wiring", role: "img", "aria-label": words.words },
    svg("rect", { x: 8, y: 8, width: 284, height: 104, rx: 5, class: "cap-wire-box" }),
    text(150, 32, words.generator, "middle"),
    text(70, 62, words.atrial, "middle"),
    text(220, 62, words.ventricular, "middle"),
    svg("circle", { cx: 70, cy: 88, r: 13, class: "cap-wire-port", "data-said": atrial }),
    svg("path", { d: "M61 88h18", class: "cap-wire-zero" }),
    ...[["−", 195, tip], ["+", 245, ring]].flatMap(([sign, x, said]) => [
      svg("circle", { cx: Number(x), cy: 88, r: 13, class: "cap-wire-port", "data-said": port }),
      svg("text", { x: Number(x), y: 95, "text-anchor": "middle", class: "cap-wire-sign" }, String(sign)),
      svg("path", { d: sign === "−" ? "M195 101V262h-48" : "M245 101V216h-98", class: "cap-wire-line", "data-said": String(said) }),
    ]),
    svg("path", { d: "M140 190V276", class: "cap-wire-body" }),
    svg("path", { d: "M130 216h20", class: "cap-wire-ring" }),
    svg("path", { d: "M134 252h12l4 18q-10 8-20 0z", class: "cap-wire-tip" }),
    text(120, 222, words.ring, "end"),
    text(120, 268, words.tip, "end"),
  );
}
