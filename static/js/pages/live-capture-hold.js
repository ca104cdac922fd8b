/** @import { Bedside } from "../types-form.js" */
import { heldValue } from "../live/dial-hold.js";
import { isWaiting, modelOf, onDial, stateOf } from "./live-capture-state.js";

/** ms a finger rests on the key before it is a hold, no tap */
const BEGINS_MS = 600;
/** ms from value to value: no faster than one can be called out */
const EACH_MS = 400;

/**
 * Let a held key of the dial lead on, value by value, until it is let go. No value is read by
 * that: the one it ends on is confirmed as ever. Taps and the keypad remain.
 * @param {HTMLElement} area that holds the keys; what they say is drawn anew with each value
 * @param {Bedside} bed
 * @param {() => void} redraw
 */
export function watchHold(area, bed, redraw) {
  let [timer, count] = [0, 0];
  const end = () => clearTimeout(timer);
  const turn = (/** @type {"up" | "down"} */ way, /** @type {number} */ pointer) => {
    const now = modelOf(bed);
    const next = now.called === null || isWaiting(bed) ? null : heldValue(now.dial, now.called, way, count);
    if (next === null) return;
    // What is touched may go with its value: the finger is the area's from here.
    if (!count && area.isConnected) area.setPointerCapture(pointer);
    count += 1;
    Object.assign(stateOf(bed), { called: onDial(now, next), isConfirmed: false });
    redraw();
    timer = setTimeout(turn, EACH_MS, way, pointer);
  };
  area.addEventListener("pointerdown", ({ target, pointerId, isPrimary }) => {
    end();
    count = 0;
    const key = target instanceof Element ? target.closest("[data-way]") : null;
    const way = key instanceof HTMLElement ? key.dataset.way : "";
    if (isPrimary && (way === "up" || way === "down")) timer = setTimeout(turn, BEGINS_MS, way, pointerId);
  });
  for (const over of ["pointerup", "pointercancel"]) area.addEventListener(over, end);
  // A key under a finger loses it to the area as the hold begins.
  area.addEventListener("lostpointercapture", ({ target }) => target === area && end());
  area.addEventListener("pointerleave", () => count || end());
  // What ends a hold is no tap on the key that lies there by then.
  area.addEventListener("click", (event) => count && event.detail !== 0 && event.stopPropagation(), true);
  area.addEventListener("contextmenu", (event) => event.preventDefault());
}
