/** @import { SensingSummary } from "./types-after.js" */
/** @import { Found, Told } from "./types-found.js" */
import { found } from "./found.js";
import { isOver } from "./over.js";
import { placesOf } from "./rows.js";
import { sensingSummary } from "./wire_sensing.js";

/**
 * Return each wire's remarks on its sensing test and the sensitivity left at.
 * @param {Told} told
 * @returns {Found[]}
 */
export function sensingArea(told) {
  return told.wires.flatMap((wire) => {
    const summary = sensingSummary(told, wire);
    const path = `wires/${wire}/capture.sensing_test`;
    const stands = !isOver(told.fold, wire);
    return summary.remarks.map((one) => found(one, path, wire, evidence(told, summary), stands));
  });
}

/** @param {Told} told @param {SensingSummary} summary */
function evidence(told, summary) {
  const place = (/** @type {string} */ id) => placesOf(told.fold).get(id) ?? 0;
  const ids = new Set([...summary.test_ids, ...(summary.left_id ? [summary.left_id] : [])]);
  return [...ids].sort((a, b) => place(a) - place(b));
}
