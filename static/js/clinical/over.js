/** @import { Fold } from "../types.js" */
import { isObject, rowsOf } from "./rows.js";

/** A lead that went home outside is still checked, in days. */
const STILL_IN = "home_externalised";
const HAPPENED = ["found_out", "elsewhere", "died", "care_withdrawn"];
const NEVER_LEFT_IN = ["given_up_wire_out", "stopped_own_rhythm_back", "not_started"];

/**
 * Return every answer to a field that nobody has settled, absences left out.
 * @param {Fold} fold
 * @param {string} path
 * @returns {any[]} any: values as kept
 */
export function heads(fold, path) {
  /** @type {any[]} any: judged where they are read */
  const told = (fold.values[path] ?? []).map((head) => head.value);
  return told.filter((value) => !(isObject(value) && "absent" in value));
}

/**
 * Tell whether any answer says that the patient died.
 * @param {Fold} fold
 * @returns {boolean}
 */
export function hasDied(fold) {
  return heads(fold, "finish.outcome").includes("died_during") || heads(fold, "finish.condition").includes("died");
}

/**
 * Tell whether nothing is due for a wire any more. Of two answers either counts.
 * @param {Fold} fold
 * @param {string} wire
 * @returns {boolean}
 */
export function isOver(fold, wire) {
  const told = (/** @type {string} */ name) => heads(fold, `wires/${wire}/removal.${name}`);
  if (told("ending").some((one) => one !== STILL_IN)) return true;
  if (told("event").some((one) => HAPPENED.includes(one))) return true;
  if (told("removed_at").length > 0 || hasDied(fold)) return true;
  if (!heads(fold, "finish.outcome").some((one) => NEVER_LEFT_IN.includes(one))) return false;
  return rowsOf(fold, "wires").length < 2 || !hasOwnStory(fold, wire);
}

/**
 * Tell whether a wire came with the patient, or was left in by what it tells. Beside other
 * wires the outcome of the procedure does not end such a wire.
 * @param {Fold} fold
 * @param {string} wire
 * @returns {boolean}
 */
function hasOwnStory(fold, wire) {
  const under = `wires/${wire}`;
  if (heads(fold, `${under}/approach.wire_came`).includes("came_with_it")) return true;
  if (rowsOf(fold, `${under}/checks.check`, `${under}/checks.dial_left_at`).length > 0) return true;
  if (heads(fold, `${under}/advance.final_depth`).length > 0) return true;
  return rowsOf(fold, `${under}/capture.dial_left_at`).some(({ value }) => value.when_kind === "final");
}
