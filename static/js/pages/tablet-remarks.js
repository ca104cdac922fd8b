/** @import { Bedside } from "../types-form.js" */
/** @import { Found } from "../clinical/types-found.js" */
/** @import { Policy } from "../clinical/types.js" */
import { caseRemarks } from "../clinical/case_remarks.js";
import { answerTo } from "../clinical/remark_answers.js";

/** Ages come due by the minute; between two entries nothing else changes. */
const FRESH_MS = 10_000;

/** @type {WeakMap<object, {ms: number, policy: object, all: Found[]}>} what was found last, of a fold that never changes */
const known = new WeakMap();

/**
 * Return everything found in the case as it stands now, heavier first.
 * @param {Bedside} bed
 * @returns {Found[]}
 */
export function remarksOf(bed) {
  const { fold } = bed.now;
  const last = known.get(fold);
  const now = bed.clock();
  if (last?.policy === bed.policy && Math.abs(now - last.ms) < FRESH_MS) return last.all;
  const all = caseRemarks(fold, policyOf(bed), now);
  known.set(fold, { ms: now, policy: bed.policy, all });
  return all;
}

/** @param {Bedside} bed @returns {Policy} */
export function policyOf(bed) {
  return /** @type {Policy} */ (/** @type {unknown} */ (bed.policy));
}

/**
 * Return what still stands and nobody answered yet.
 * @param {Bedside} bed
 */
export function openRemarks(bed) {
  return remarksOf(bed).filter((one) => one.stands && !answerTo(bed.now.fold, one));
}

/** @param {Found} one @returns {string} the part it stands in */
export function partOf({ path }) {
  return path.split("/").at(-1)?.split(".")[0] ?? "";
}
