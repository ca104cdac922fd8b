/** @import { Found, Told } from "./types-found.js" */
import { barrierRemarks } from "./barrier.js";
import { blindPacingRemarks } from "./blind_pacing.js";
import { passesRemarks } from "./passes.js";
import { refusalRemarks } from "./refusal.js";
import { sedationRemarks } from "./sedation.js";

/**
 * Return the remarks on the case around the procedure.
 * @param {Told} told
 * @returns {Found[]}
 */
export function aroundRemarks(told) {
  return [...refusalRemarks(told), ...barrierRemarks(told), ...sedationRemarks(told), ...passesRemarks(told), ...blindPacingRemarks(told)];
}
