/** @import { Bedside } from "../types-form.js" */
/** @import { Found } from "../clinical/types-found.js" */
/** @import { Policy } from "../clinical/types.js" */
import { AREAS, caseRemarks } from "../clinical/case_remarks.js";
import { heavierFound } from "../clinical/found.js";
import { answerTo } from "../clinical/remark_answers.js";
import { toldOf } from "../clinical/told.js";
import { idle, inPieces } from "../log/idle.js";

/** Ages come due by the minute; between two entries nothing else changes. */
const FRESH_MS = 10_000;

/** @type {WeakMap<object, {ms: number, policy: object, all: Found[]}>} what was found last, of a fold that never changes */
const known = new WeakMap();

/** @type {WeakMap<object, Promise<void>>} what is being found, by fold */
const finding = new WeakMap();

/**
 * Return everything found in the case as it stands now, heavier first.
 * @param {Bedside} bed
 * @returns {Found[]}
 */
export function remarksOf(bed) {
  const { fold } = bed.now;
  const now = bed.clock();
  const last = freshOf(bed);
  if (last) return last.all;
  const all = caseRemarks(fold, policyOf(bed), now);
  known.set(fold, { ms: now, policy: bed.policy, all });
  return all;
}

/**
 * Find everything in the case, area by area, while the page has nothing else to do: a tap is
 * answered first. Resolves once it was found, or another entry came meanwhile.
 * @param {Bedside} bed
 * @returns {Promise<void>}
 */
export function whenRemarked(bed) {
  if (freshOf(bed)) return idle();
  const { fold } = bed.now;
  const { policy } = bed;
  const running = finding.get(fold);
  if (running) return running;
  const ms = bed.clock();
  /** @type {import("../clinical/types-found.js").Told | null} */
  let told = null;
  /** @type {Found[]} */
  const all = [];
  const isWanted = () => bed.now.fold === fold && bed.policy === policy;
  const pieces = Object.values(AREAS).map((area) => () => void all.push(...area((told ??= toldOf(fold, policyOf(bed), ms)))));
  const found = () => void (isWanted() && known.set(fold, { ms, policy, all: heavierFound(all) }));
  const work = inPieces(pieces, isWanted).then(found).finally(() => finding.delete(fold));
  finding.set(fold, work);
  return work;
}

/** @param {Bedside} bed */
function freshOf(bed) {
  const last = known.get(bed.now.fold);
  return last?.policy === bed.policy && Math.abs(bed.clock() - last.ms) < FRESH_MS ? last : null;
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
