/** @import { Bedside } from "../types-form.js" */
import { fill, the } from "../form/dom.js";
import { settingOf } from "../form/today.js";
import { drawAdvance } from "./live-advance.js";
import { drawCapture } from "./live-capture.js";
import { captureKeys, drawCapturePanel } from "./tablet-capture.js";
import { dueLine } from "./tablet-due.js";
import { drawDepthPanel } from "./tablet-panels.js";

/**
 * @typedef {object} LiveTools What a live part works with besides the case.
 * @property {string} today
 * @property {(path: string, chosen?: {[child: string]: string}) => void} add open the form of a new row of this group, with what the key says of it
 * @property {import("../form/unfinished.js").Drafts} drafts
 */

/**
 * Draw the numbers of a live part: alone and with its keys, or above its fields. Other
 * parts have none.
 * @param {HTMLElement} at
 * @param {Bedside} bed
 * @param {{part: string, view: import("./tablet-view.js").View, add: LiveTools["add"], drafts: import("../form/unfinished.js").Drafts}} page
 */
export function drawPanel(at, bed, { part, view, add, drafts }) {
  const { today } = settingOf(bed);
  const shown = `${part} ${view}`;
  at.hidden = part !== "advance" && part !== "capture" && part !== "checks";
  // Keys that stay hold the case and wire they were made for; the first wire joins them.
  const isOther = at.dataset.ofRecord !== bed.record || Boolean(at.dataset.ofWire && at.dataset.ofWire !== bed.wire);
  if (at.dataset.part !== shown || isOther) at.replaceChildren();
  Object.assign(at.dataset, { part: shown, ofRecord: bed.record, ofWire: bed.wire ?? "" });
  const isCapture = part === "capture" || part === "checks";
  fill(the("#remark-keys"), ...(isCapture && view === "fields" ? captureKeys(part, add) : []));
  if (at.hidden) return;
  const tools = { today, add, drafts };
  if (view === "live") return part === "advance" ? drawAdvance(at, bed, tools) : drawCapture(at, bed, tools);
  if (part === "advance") drawDepthPanel(at, bed, today, () => add("advance.depth_reading"));
  else drawCapturePanel(at, bed, part === "checks" ? [dueLine(bed, today)] : []);
}
