/** @import { Bedside, CaseRead } from "../types-form.js" */
import { el } from "../form/dom.js";
import { say } from "../form/say.js";
import { alikeLine } from "./tablet-alike.js";
import { isFinished } from "./tablet-finished.js";
import { identityHere } from "./tablet-identity.js";
import { whoBlocks } from "./tablet-strip.js";

/** ms: the tap that led here, and its tremble, say nothing of what is shown. */
const UNSEEN_MS = 400;

/** @type {{record: string, now: CaseRead} | null} the case that this page showed last */
let last = null;

/** Whether the next case that is shown is one that somebody came to. */
let isAwaited = false;

/**
 * Remember the case that is being left, as it stands. A case begun on Start just now is the
 * one that is in view already: it needs no question, and one that stands is not taken away.
 * @param {Bedside} bed
 * @param {string} next the record gone to, "" none
 */
export function leaveCase({ record, now }, next) {
  if (next === record) return;
  closeSwitch();
  isAwaited = next !== record && next !== "";
  if (record) last = { record, now };
}

/**
 * Show who it is, over everything, where another case was in view before and both are
 * running: nothing can be told until that was seen.
 * @param {Bedside} bed
 */
export function tellSwitch(bed) {
  if (!isAwaited) return;
  isAwaited = false;
  if (!last || last.record === bed.record) return;
  if (!isFinished(last.now) && !isFinished(bed.now)) show(bed, last);
}

/** Take it away without a tap: the page goes elsewhere. */
function closeSwitch() {
  document.querySelector(".switch")?.remove();
}

/** @param {Bedside} bed @param {{record: string, now: CaseRead}} before */
function show(bed, before) {
  const go = el("button", { type: "button", class: "switch-now", disabled: true }, el("small", {}, say("switch.now")), ...whoBlocks(identityHere(bed, bed.now, bed.record)), el("span", { class: "switch-tap" }, say("switch.tap")));
  const other = el("div", { class: "switch-not" }, el("small", {}, say("switch.not")), ...whoBlocks(identityHere(bed, before.now, before.record)));
  const over = el("section", { class: "switch", role: "dialog", "aria-modal": "true", "aria-label": say("switch.title") }, go, alikeLine([before.now, bed.now]), other);
  const page = /** @type {HTMLElement} */ (document.querySelector("#case"));
  page.inert = true;
  go.addEventListener("click", () => {
    closeSwitch();
    page.inert = false;
  });
  document.body.append(over);
  setTimeout(() => {
    go.disabled = false;
    go.focus();
  }, UNSEEN_MS);
}
