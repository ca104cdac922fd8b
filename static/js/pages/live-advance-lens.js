/** @typedef {import("./live-advance.js").Advance} Advance */
import { key } from "../form/dom.js";
import { fillInPlace } from "../form/in-place.js";
import { say } from "../form/say.js";
import { lensDepths, lensFrom } from "../live/lens.js";
import { ALONE_MS, ask, callDepth } from "./live-advance-call.js";
import { wayOf } from "./live-advance-rope.js";

/**
 * Return which reading the lens follows, and where it begins for it.
 * @param {Advance} page
 * @returns {{id: string, from: number}}
 */
export function lensStart({ bed, last }) {
  return { id: last?.id ?? "", from: lensFrom(last?.cm ?? null, wayOf(bed).bands ?? []) };
}

/**
 * Draw the neighbouring depths, and the key to any other.
 * @param {HTMLElement} at
 * @param {Advance} page
 * @param {number} from
 */
export function drawLens(at, page, from) {
  const { call } = page;
  const keys = lensDepths(from).map((depth) => {
    const isCalled = call.depth === depth;
    const words = say(isCalled ? "advance.cm_called" : "advance.cm", { cm: depth });
    return key(depth, () => called(page, depth), { "data-act": `depth-${depth}`, "aria-label": words, "aria-pressed": String(isCalled) });
  });
  const other = key(say("advance.other"), () => others(page), { "data-act": "depth-other", "aria-pressed": String(call.asked === "digits") });
  fillInPlace(at, ...keys, other);
}

/** @param {Advance} page @param {string} depth cm @param {boolean} [isTyped] */
export function called({ bed, call, redraw }, depth, isTyped = false) {
  callDepth(call, depth, bed.clock(), isTyped);
  setTimeout(() => bed.drawSoon(), ALONE_MS + 20);
  redraw();
}

/** The keypad stands where the results stood; the same key takes it away again. @param {Advance} page */
function others({ call, redraw }) {
  if (call.asked !== "digits") call.depth = null;
  ask(call, call.asked === "digits" ? "results" : "digits");
  redraw();
}
