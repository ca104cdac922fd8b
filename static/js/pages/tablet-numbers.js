/** @import { Bedside } from "../types-form.js" */
/** @import { OpenTest } from "../clinical/types-settings.js" */
/** @import { Policy, ThresholdSummary } from "../clinical/types.js" */
import { openTest } from "../clinical/open_test.js";
import { limits } from "../clinical/policy.js";
import { thresholdSummary } from "../clinical/readings.js";

/**
 * @typedef {object} CaptureNumbers The numbers of the page's wire, as they stand.
 * @property {ThresholdSummary | null} summary
 * @property {string | null} threshold as shown on this dial
 * @property {number | null} ms when the test that gave it was made
 */

/**
 * What was worked out last, of a fold that never changes: strip, standing row and panel ask
 * at every drawing. Ages are judged to the second.
 * @type {WeakMap<object, {wire: string, second: number, policy: object, numbers: CaptureNumbers}>}
 */
const known = new WeakMap();

/** @type {WeakMap<object, {wire: string, second: number, policy: object, test: OpenTest | null}>} the same, of its test */
const knownTests = new WeakMap();

/**
 * Work out threshold, what policy asks and margin of the page's wire. Null where there
 * is no wire: nothing is computed from nothing.
 * @param {Bedside} bed
 * @returns {CaptureNumbers}
 */
export function captureNumbers(bed) {
  if (!bed.wire) return { summary: null, threshold: null, ms: null };
  const second = Math.floor(bed.clock() / 1000);
  const last = known.get(bed.now.fold);
  if (last?.wire === bed.wire && last.second === second && last.policy === bed.policy) return last.numbers;
  const numbers = numbersOf(bed, bed.wire);
  known.set(bed.now.fold, { wire: bed.wire, second, policy: bed.policy, numbers });
  return numbers;
}

/**
 * @param {Bedside} bed
 * @param {string} wire
 * @returns {CaptureNumbers}
 */
function numbersOf(bed, wire) {
  const policy = /** @type {Policy} */ (/** @type {unknown} */ (bed.policy));
  const summary = thresholdSummary(bed.now.fold, wire, policy, { now_ms: bed.clock() });
  const counted = summary.tests.find((test) => test.told.id === summary.counted);
  return { summary, threshold: summary.shown.threshold ?? null, ms: counted?.told.time_ms ?? null };
}

/**
 * Return the settings of a test of the page's wire that nobody has read back yet, or null.
 * @param {Bedside} bed
 * @returns {OpenTest | null}
 */
export function openTestOf(bed) {
  if (!bed.wire) return null;
  const second = Math.floor(bed.clock() / 1000);
  const last = knownTests.get(bed.now.fold);
  if (last?.wire === bed.wire && last.second === second && last.policy === bed.policy) return last.test;
  const policy = /** @type {Policy} */ (/** @type {unknown} */ (bed.policy));
  const test = openTest(bed.now.fold, bed.wire, limits(policy, true), bed.clock());
  knownTests.set(bed.now.fold, { wire: bed.wire, second, policy: bed.policy, test });
  return test;
}

/**
 * Tell whether the threshold that counts was found by another test than the one that is open.
 * @param {Bedside} bed
 * @param {ThresholdSummary | null} summary
 */
export function isOfTestBefore(bed, summary) {
  const last = summary?.tests.at(-1);
  return Boolean(summary?.counted && last && last.told.id !== summary.counted && openTestOf(bed)?.ids.includes(last.told.id));
}

/**
 * Tell whether the test that counts is a full one that is still read: its loss is to come.
 * @param {Bedside} bed
 * @param {ThresholdSummary} summary
 */
export function isStillSought(bed, { tests, counted }) {
  const test = tests.find(({ told }) => told.id === counted);
  return test?.told.kind === "full" && Boolean(openTestOf(bed)?.ids.includes(test.told.id));
}

/**
 * Return the settings of a test of any wire that nobody has read back yet: those of the
 * page's wire first, else the longest standing; with the wire where it is another.
 * @param {Bedside} bed
 * @returns {{test: OpenTest, elsewhere: import("../types-form.js").WireRead | null} | null}
 */
export function openTestAnywhere(bed) {
  const own = openTestOf(bed);
  if (own) return { test: own, elsewhere: null };
  const policy = /** @type {Policy} */ (/** @type {unknown} */ (bed.policy));
  const open = bed.now.wires.flatMap((wire) => {
    const test = openTest(bed.now.fold, wire.id, limits(policy, true), bed.clock());
    return test ? [{ test, elsewhere: wire }] : [];
  });
  return open.sort((a, b) => (b.test.seconds ?? 0) - (a.test.seconds ?? 0))[0] ?? null;
}
