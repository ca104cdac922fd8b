/** @import { Fold } from "../types.js" */
/** @import { Found, Told } from "./types-found.js" */
/** @import { ThresholdSummary } from "./types.js" */
import { entriesOf } from "./evidence.js";
import { found } from "./found.js";
import { heads, isOver } from "./over.js";
import { thresholdSummary } from "./readings.js";
import { rowsOf } from "./rows.js";

const HANDED = ["finish.handed_to", "finish.received_by", "finish.received_at"];

/**
 * Return each wire's remarks on its tests and on the dial left at.
 * @param {Told} told
 * @returns {Found[]}
 */
export function captureRemarks(told) {
  return told.wires.flatMap((wire) => {
    const handedBy = handed(told.fold, wire);
    const context = { now_ms: told.now_ms, at_handover: handedBy.length > 0 };
    const summary = thresholdSummary(told.fold, wire, told.policy, context);
    const path = `wires/${wire}/capture.threshold_test`;
    const stands = !isOver(told.fold, wire);
    // Who answered it before the handover answered another, lighter remark.
    const withHanded = [...new Set([...evidence(summary), ...handedBy])];
    return summary.remarks.map((one) =>
      found(one, path, wire, one.code === "below_floor" ? withHanded : evidence(summary), stands),
    );
  });
}

/** What tells of a handover of this wire, or of a transfer. @param {Fold} fold @param {string} wire */
function handed(fold, wire) {
  const paths = HANDED.filter((path) => heads(fold, path).length > 0);
  return entriesOf(fold, paths, rowsOf(fold, `wires/${wire}/handover.receiver_reads`, "handover.transfer"));
}

/** Test and readings that count, then the settings held against them. @param {ThresholdSummary} summary */
function evidence(summary) {
  const test = summary.tests.find((one) => one.told.id === summary.counted) ?? summary.tests.at(-1);
  const ids = test ? [test.told.id, ...test.told.ids].filter(Boolean) : [];
  return [...new Set([...ids, ...(summary.left_at ? [summary.left_at.id] : [])])];
}
