/** @import { Fold } from "../types.js" */
/** @import { Told } from "./types-found.js" */
/** @import { Policy } from "./types.js" */
import { ageClass, sizeOf } from "./ages.js";
import { limits } from "./policy.js";
import { rowsOf } from "./rows.js";

/**
 * Return a record as every remark reads it.
 * @param {Fold} fold
 * @param {Policy} policy as in catalogue.json
 * @param {number | null} now_ms
 * @returns {Told}
 */
export function toldOf(fold, policy, now_ms) {
  const age = ageClass(sizeOf(fold), limits(policy, true));
  const wires = rowsOf(fold, "wires").map((row) => row.id);
  return { fold, policy, now_ms, age, limits: limits(policy, age.is_adult), wires };
}
