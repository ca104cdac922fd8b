/** @import { Found, Told } from "./types-found.js" */
/** @import { ThresholdSummary } from "./types.js" */
import { found } from "./found.js";
import { isOver } from "./over.js";
import { thresholdSummary } from "./readings.js";

/**
 * Return each wire's remarks on its tests and on the dial left at.
 * @param {Told} told
 * @returns {Found[]}
 */
export function captureRemarks(told) {
  return told.wires.flatMap((wire) => {
    const summary = thresholdSummary(told.fold, wire, told.policy, told);
    const path = `wires/${wire}/capture.threshold_test`;
    const stands = !isOver(told.fold, wire);
    return summary.remarks.map((one) => found(one, path, wire, evidence(summary), stands));
  });
}

/** Test and readings that count, then the settings held against them. @param {ThresholdSummary} summary */
function evidence(summary) {
  const test = summary.tests.find((one) => one.told.id === summary.counted) ?? summary.tests.at(-1);
  const ids = test ? [test.told.id, ...test.told.ids].filter(Boolean) : [];
  return [...new Set([...ids, ...(summary.left_at ? [summary.left_at.id] : [])])];
}
