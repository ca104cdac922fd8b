/** @import { Bedside } from "../types-form.js" */
import { drawDepthPanel } from "./tablet-panels.js";

/**
 * Draw Advance as it runs: the depth, what was seen there, and the keys for the next.
 * @param {HTMLElement} at
 * @param {Bedside} bed
 * @param {import("./tablet-panel.js").LiveTools} tools
 */
export function drawAdvance(at, bed, { today, add }) {
  drawDepthPanel(at, bed, today, () => add("advance.depth_reading"));
}
