/** @import { Fold } from "../types.js" */
import { momentMs, rowsOf } from "./rows.js";

/**
 * Tell whether an arrest of the record still has no pulse back.
 * @param {Fold} fold
 * @returns {boolean}
 */
export function inArrest(fold) {
  const back = new Set(rowsOf(fold, "indication.pulse_back").map((row) => String(row.value.of)));
  return rowsOf(fold, "indication.arrest").some((row) => !back.has(row.id) && momentMs(row.value.pulse_back) === null);
}
