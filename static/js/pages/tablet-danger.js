/** @import { Bedside } from "../types-form.js" */
import { fill } from "../form/dom.js";

/**
 * Draw the keys that never move: what goes wrong is told with one tap from every part.
 * @param {HTMLElement} at
 * @param {Bedside} bed
 */
export function drawDanger(at, bed) {
  if (bed.record) fill(at);
}
