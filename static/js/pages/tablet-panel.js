/** @import { Bedside } from "../types-form.js" */
import { fill, the } from "../form/dom.js";
import { settingOf } from "../form/today.js";
import { captureKeys, drawCapturePanel } from "./tablet-capture.js";
import { dueLine } from "./tablet-due.js";
import { drawDepthPanel } from "./tablet-panels.js";

/**
 * Draw the numbers of a live part above its page; other parts have none.
 * @param {HTMLElement} at
 * @param {Bedside} bed
 * @param {string} part
 * @param {(path: string) => void} add open the form of a new row of this group
 */
export function drawPanel(at, bed, part, add) {
  const { today } = settingOf(bed);
  at.hidden = part !== "advance" && part !== "capture" && part !== "checks";
  if (at.dataset.part !== part) at.replaceChildren();
  at.dataset.part = part;
  const isCapture = part === "capture" || part === "checks";
  fill(the("#remark-keys"), ...(isCapture ? captureKeys(part, add) : []));
  if (part === "advance") drawDepthPanel(at, bed, today, () => add("advance.depth_reading"));
  if (isCapture) drawCapturePanel(at, bed, part === "checks" ? [dueLine(bed, today)] : []);
}
