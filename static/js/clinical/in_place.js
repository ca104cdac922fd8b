/** @import { Fold } from "../types.js" */
import { heads } from "./over.js";
import { momentMs, oneAnswer, rowsOf } from "./rows.js";

/**
 * Return when a wire was placed: as told of one that came with it, else here: first read, else
 * named where it is said to be in. Of one that came nobody knows unless it is told.
 * @param {Fold} fold
 * @param {string} wire
 * @returns {number | null}
 */
export function placedMs(fold, wire) {
  const under = `wires/${wire}`;
  const told = momentMs(oneAnswer(fold, `${under}/approach.came_placed_at`));
  if (told !== null) return told;
  if (heads(fold, `${under}/approach.wire_came`).includes("came_with_it")) return null;
  const names = ["advance.depth_reading", "capture.output_reading", "capture.dial_left_at"];
  const seen = rowsOf(fold, ...names.map((name) => `${under}/${name}`));
  // "No" and "can't tell" of capture are answered while nothing is in place too.
  const captures = heads(fold, `${under}/capture.electrical_capture`).includes("yes");
  const isIn = captures || heads(fold, `${under}/advance.final_depth`).length > 0;
  const own = isIn ? rowsOf(fold, "wires").filter((row) => row.id === wire) : [];
  return [...seen, ...own].at(0)?.time_ms ?? null;
}

/**
 * Return when the wire was left in place: dressing on, or final settings read.
 * @param {Fold} fold
 * @param {string} wire
 */
export function leftMs(fold, wire) {
  const final = rowsOf(fold, `wires/${wire}/capture.dial_left_at`).filter((row) => row.value.when_kind === "final");
  return latest([momentMs(oneAnswer(fold, "finish.dressing_on")), ...final.map((row) => row.time_ms)]);
}

/**
 * @param {(number | null)[]} times
 * @returns {number | null}
 */
export function latest(times) {
  const known = times.flatMap((ms) => (ms === null ? [] : [ms]));
  return known.length > 0 ? Math.max(...known) : null;
}
