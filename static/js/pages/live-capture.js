/** @import { Bedside } from "../types-form.js" */
import { el } from "../form/dom.js";
import { captureKeys, drawCapturePanel } from "./tablet-capture.js";

/**
 * Draw Capture as it runs: the dial, its readings, and the keys for the next.
 * @param {HTMLElement} at
 * @param {Bedside} bed
 * @param {import("./tablet-panel.js").LiveTools} tools
 */
export function drawCapture(at, bed, { add }) {
  drawCapturePanel(at, bed, [el("div", { class: "panel-said" }, ...captureKeys("capture", add))]);
}
