/** @import { Bedside } from "../types-form.js" */
import { the } from "../form/dom.js";
import { callOf } from "./live-advance-call.js";
import { modelOf, stateOf } from "./live-capture-state.js";

/**
 * Return what is being read at this moment and is in no entry yet: on Advance the depth
 * called, on Capture the dial read on the generator.
 * @param {Bedside} bed
 * @returns {{depth_cm?: number | null, output_ma?: number | null}}
 */
export function inHand(bed) {
  const isCapture = the("#panel").dataset.part?.startsWith("capture") ?? false;
  if (!isCapture) return { depth_cm: asNumber(callOf(bed).depth) };
  return { output_ma: stateOf(bed).isConfirmed ? asNumber(modelOf(bed).called) : null };
}

/** @param {string | null} text */
function asNumber(text) {
  return text === null ? null : Number(text);
}
