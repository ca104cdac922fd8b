/** @import { Bedside } from "../types-form.js" */
import { el, fill, the } from "../form/dom.js";
import { keepFocus } from "../form/focus.js";
import { sizeOf } from "../live/size.js";
import { policyAsks, steps, threshold } from "./tablet-capture.js";
import { ruler } from "./tablet-margin.js";
import { fillInPlace } from "../form/in-place.js";
import { dialKeys, lineOf, resultKeys } from "./live-capture-dial.js";
import { watchHold } from "./live-capture-hold.js";
import { drawOver } from "./live-capture-over.js";
import { readBack, sideKeys, wiringKey } from "./live-capture-side.js";
import { modelOf } from "./live-capture-state.js";

const AREAS = ["numbers", "dial", "line", "results", "chart"];
const SIDE = ["wires", "keys", "read"];

/**
 * Draw Capture as it runs: the dial called and the results it may have, what was found,
 * and what is to be read back. Every key keeps its place.
 * @param {HTMLElement} at
 * @param {Bedside} bed
 * @param {import("./tablet-panel.js").LiveTools} tools
 */
export function drawCapture(at, bed, tools) {
  at.className = "panel panel-live cap";
  // A case that is being left is drawn no more: the panel would stand empty behind it.
  const redraw = () => void (at.dataset.ofRecord === bed.record && keepFocus(() => drawCapture(the("#panel"), bed, tools)));
  if (!at.querySelector(":scope > .cap-over")) {
    setOut(at);
    watchHold(the('[data-area="dial"]', at), bed, redraw);
  }
  const area = areasOf(at);
  const model = modelOf(bed);
  fill(area("numbers"), threshold(bed, model.summary, model.ms), policyAsks(bed, model.summary));
  drawHand(at, bed, model, redraw);
  fill(area("wires"), wiringKey(bed, redraw));
  fill(area("keys"), ...sideKeys(bed, model, tools, redraw));
  fill(area("read"), ...readBack(bed, model, tools, redraw));
  const { width, height } = sizeOf(area("chart"), redraw);
  const box = { width: Math.max(width - 150, 140), height: Math.max(height, 86) };
  fill(area("chart"), steps(bed, model.summary, box, model.test), ruler(bed, model.summary, { width: 130, height: box.height }, model.isTestOpen));
  drawOver(the(".cap-over", at), bed, model, tools, redraw);
}

/**
 * Draw what a tap on dial or result changes, and nothing else: the hand waits for it.
 * @param {HTMLElement} at
 * @param {Bedside} bed
 * @param {import("./live-capture-state.js").CaptureModel} model
 * @param {() => void} redraw
 */
function drawHand(at, bed, model, redraw) {
  const area = areasOf(at);
  const again = () => drawHand(at, bed, modelOf(bed), redraw);
  fillInPlace(area("dial"), ...dialKeys(bed, model, again, redraw));
  fill(area("line"), ...lineOf(bed, model));
  fillInPlace(area("results"), ...resultKeys(bed, again));
}

/** @param {HTMLElement} at @returns {(name: string) => HTMLElement} */
function areasOf(at) {
  return (name) => the(`[data-area="${name}"]`, at);
}

/** @param {HTMLElement} at */
function setOut(at) {
  const made = (/** @type {string} */ name) => el("div", { class: `cap-${name}`, "data-area": name, role: name === "read" ? "group" : null, "aria-labelledby": name === "read" ? "cap-read-title" : null });
  at.replaceChildren(...AREAS.map(made), el("div", { class: "cap-side" }, ...SIDE.map(made)), el("section", { class: "cap-over", role: "dialog", hidden: true }));
}
