/** @import { Bedside } from "../types-form.js" */
import { el, fill, the } from "../form/dom.js";
import { say } from "../form/say.js";
import { lead } from "../live/lead.js";
import { closeCard, drawCard } from "./tablet-danger-card.js";
import { cardKey, openArrest, stampArrest, stampLost } from "./tablet-danger-moments.js";

/**
 * @typedef {object} DangerPage What the keys work with besides the case.
 * @property {string} part the part in sight
 * @property {(part: string, path: string, of: string) => void} addRow open the form of a row within a row
 */

/** @type {DangerPage} the page as drawn last: a tap is about what is in sight */
let shown = { part: "", addRow: () => {} };

/**
 * Draw the keys that never move: what goes wrong is told with one tap from every part.
 * They are made once: a key that turns into its opposite stays the same key, so that a
 * trembling second tap is still known as one.
 * @param {HTMLElement} at
 * @param {Bedside} bed
 * @param {DangerPage} page
 */
export function drawDanger(at, bed, page) {
  shown = page;
  if (!at.childElementCount) {
    at.append(keyOf(bed, "danger-arrest", () => stampArrest(bed)), keyOf(bed, "danger-lost", () => stampLost(bed, shown.part)));
  }
  const [arrest, lost] = /** @type {HTMLElement[]} */ ([...at.children]);
  if (arrest) drawArrest(arrest, openArrest(bed.now) !== null, bed.record);
  if (lost) {
    lost.dataset.act = "capture-lost";
    fill(lost, lead("look_now"), el("b", {}, say("danger.lost")), el("small", {}, say("danger.not_a_test")));
  }
  fill(the("#card-key"), cardKey(bed));
  drawCard(bed, page.addRow);
}

/** What lies over a part is about what was in sight there. */
export function leaveCard() {
  closeCard();
}

/** Another tablet may have told it just before the finger came down: that tap meant the other. */
const TURNING_MS = 400;
let turnedAt = -TURNING_MS;

/** One key that says what the next tap does. @param {HTMLElement} at @param {boolean} isArrest @param {string} record */
function drawArrest(at, isArrest, record) {
  const act = isArrest ? "pulse-back" : "arrest";
  // In another case nothing turned: its first tap is about what stands there.
  if (at.dataset.drawnFor === record && at.dataset.act !== act) turnedAt = performance.now();
  Object.assign(at.dataset, { act, drawnFor: record });
  at.toggleAttribute("data-danger", !isArrest);
  fill(at, lead(isArrest ? "fits" : "look_now"), el("b", {}, say(isArrest ? "danger.pulse_back" : "danger.arrest")));
}

/**
 * A tap while the one before is being written is no second row.
 * @param {Bedside} bed
 * @param {string} css
 * @param {() => Promise<void>} onTap
 */
function keyOf(bed, css, onTap) {
  const made = el("button", { type: "button", class: `key danger-key ${css}`, "data-danger": "" });
  let isKeeping = false;
  made.addEventListener("click", (event) => {
    // detail 0: a keyboard, which reads what it presses.
    const isTurning = css === "danger-arrest" && event.detail > 0 && performance.now() - turnedAt < TURNING_MS;
    if (isKeeping || isTurning) return;
    isKeeping = true;
    void bed.during(onTap()).finally(() => (isKeeping = false));
  });
  return made;
}
