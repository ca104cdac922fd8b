/** @import { Bedside } from "../types-form.js" */
/** @import { Tested } from "../clinical/types.js" */
/** @import { LiveState } from "./live-capture-state.js" */
import { openTestOf } from "./tablet-numbers.js";

/**
 * A test is over once its settings were read back, or what it tested was changed; readings in
 * another unit are another test's.
 * @param {Bedside} bed
 * @param {Tested | undefined} last the latest
 * @param {"mA" | "V"} unit
 */
export function openOf(bed, last, unit) {
  return last?.stands && (!last.told.ids.length || last.told.unit === unit) && openTestOf(bed)?.ids.includes(last.told.id) ? last : null;
}

/**
 * Return the kind of the test the next reading belongs to.
 * @param {Tested | null} test
 * @param {LiveState} state
 * @param {boolean} isDependent
 */
export function kindOf(test, state, isDependent) {
  const told = test ? test.told.kind : state.kind;
  if (told === "full" || told === "margin_shown") return told;
  return isDependent ? "margin_shown" : "full";
}
