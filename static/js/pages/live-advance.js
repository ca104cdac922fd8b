/** @import { Bedside } from "../types-form.js" */
import { el, the } from "../form/dom.js";
import { keepFocus } from "../form/focus.js";
import { say } from "../form/say.js";
import { STILL_MS, callOf, isHeld, settleDepth, settleLens } from "./live-advance-call.js";
import { drawGrid } from "./live-advance-grid.js";
import { drawHead } from "./live-advance-head.js";
import { drawLens, lensStart } from "./live-advance-lens.js";
import { drawSide } from "./live-advance-side.js";
import { depthReadings, lastDepth } from "./tablet-panels.js";

/** @typedef {import("./tablet-panels.js").DepthReading} DepthReading */

/**
 * @typedef {object} Advance What the keys of Advance work with. Keys that say the same stay
 * as they were drawn, so each reads the case when it is tapped.
 * @property {Bedside} bed
 * @property {import("./live-advance-call.js").Call} call
 * @property {DepthReading[]} all in the order they happened
 * @property {DepthReading | undefined} last
 * @property {import("./tablet-panel.js").LiveTools} tools
 * @property {() => void} redraw show at once what was tapped
 */

/**
 * Draw Advance as it runs: the depth, what was seen there, and the keys for the next.
 * @param {HTMLElement} at
 * @param {Bedside} bed
 * @param {import("./tablet-panel.js").LiveTools} tools
 */
export function drawAdvance(at, bed, tools) {
  at.className = "panel panel-advance";
  if (!at.querySelector(":scope > .adv")) at.replaceChildren(frame(bed));
  const all = depthReadings(bed, tools.today);
  /** @type {Advance} */
  const page = { bed, call: callOf(bed), all, last: lastDepth(all), tools, redraw: () => redraw(at, bed, tools) };
  settleDepth(page.call, page.last);
  const from = settleLens(page.call, lensStart(page));
  drawLens(the(".adv-lens", at), page, from);
  drawHead(the(".adv-head", at), the(".adv-ask", at), page);
  drawGrid(the(".adv-grid", at), page);
  drawSide(the(".adv-side", at), page);
}

/** Who taps by keys goes on from where they were, or from what came in its place. @param {HTMLElement} at @param {Bedside} bed @param {import("./tablet-panel.js").LiveTools} tools */
function redraw(at, bed, tools) {
  // A case that is being left is drawn no more: the panel would stand empty behind it.
  if (at.dataset.ofRecord !== bed.record) return;
  const wasHere = at.contains(document.activeElement);
  keepFocus(() => drawAdvance(at, bed, tools));
  if (wasHere && document.activeElement === document.body) the(".adv-grid > .key", at).focus({ preventScroll: true });
}

/** Made once: what is drawn into it changes key by key. @param {Bedside} bed */
function frame(bed) {
  const group = (/** @type {string} */ name, /** @type {string} */ words) => el("div", { class: name, role: "group", "aria-label": words });
  const made = el(
    "div",
    { class: "adv" },
    group("adv-lens", say("advance.lens")),
    el("div", { class: "adv-head" }, el("div", { class: "adv-depth" }), el("div", { class: "adv-shown" }), el("div", { class: "adv-once" })),
    el("p", { class: "adv-ask", role: "status" }),
    group("adv-grid", say("advance.results")),
    el(
      "div",
      { class: "adv-side" },
      group("adv-balloon", say("advance.balloon")),
      group("adv-ectopy", say("advance.ectopy")),
      group("adv-danger", say("advance.at_once")),
      el("ol", { class: "panel-list adv-list", "aria-label": say("depth.list") }),
      group("adv-keys", say("advance.last")),
    ),
  );
  watchTaps(made, bed);
  return made;
}

/**
 * Take no second tap for another answer: a key drawn anew under a trembling finger is still
 * the same key, and one that just came into the grid was not aimed at.
 * @param {HTMLElement} at
 * @param {Bedside} bed
 */
function watchTaps(at, bed) {
  let last = { act: "", at: -STILL_MS };
  at.addEventListener("pointerdown", () => (callOf(bed).touchedAt = performance.now()), true);
  at.addEventListener(
    "click",
    (event) => {
      const key = event.target instanceof Element ? event.target.closest(".key") : null;
      const act = key instanceof HTMLElement ? key.dataset.act ?? "" : "";
      const now = performance.now();
      const call = callOf(bed);
      call.touchedAt = now;
      setTimeout(() => bed.drawSoon(), STILL_MS + 20);
      // detail 0: a keyboard or a script, which does not tremble.
      if (!key || event.detail === 0) return;
      const isTwice = act === last.act && now - last.at < STILL_MS && call.asked !== "digits";
      const isNew = key.closest(".adv-grid") !== null && isHeld(call, now);
      if (isTwice || isNew) event.stopPropagation();
      else last = { act, at: now };
    },
    true,
  );
}
