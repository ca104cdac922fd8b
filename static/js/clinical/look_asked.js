/** @import { Fold } from "../types.js" */
/** @import { After } from "./types-after.js" */
/** @import { StandingRow } from "./types.js" */
import { leftMs, placedMs } from "./in_place.js";
import { taken } from "./pictures.js";
import { momentMs, oneAnswer, rowsOf } from "./rows.js";

/** @type {Map<unknown, After>} clinical 23: after turning, transport, film or scan; ultrasound comes to the bed */
const MOVED = new Map(/** @type {[string, After][]} */ ([["turned", "turned"], ["came_back", "arrival"]]));
const IMAGED = ["film", "ct", "fluoroscopy"];

/** Each arrival at a place with the wire: by transfer, at leaving, with it. @param {Fold} fold @param {string} wire */
function arrivals(fold, wire) {
  const transfers = rowsOf(fold, "handover.transfer").map((row) => momentMs(row.value.arrived_at));
  const told = [...transfers, momentMs(oneAnswer(fold, "finish.received_at")), cameMs(fold, wire)];
  const placed = placedMs(fold, wire);
  return told.flatMap((ms) => (ms === null || (placed !== null && ms < placed) ? [] : [ms]));
}

/** When a wire that came with the patient was named here. @param {Fold} fold @param {string} wire */
function cameMs(fold, wire) {
  if (oneAnswer(fold, `wires/${wire}/approach.wire_came`) !== "came_with_it") return null;
  return rowsOf(fold, "wires").find((row) => row.id === wire)?.time_ms ?? null;
}

/**
 * Return what asks for a look, in time: arrivals, and what moves the patient. Turning and
 * imaging count once the wire is left in place: before it, both belong to placing it. What
 * is reported later of a picture moved nobody again.
 * @param {Fold} fold
 * @param {string} wire
 * @returns {[number, After][]}
 */
export function askedBy(fold, wire) {
  const left = leftMs(fold, wire) ?? cameMs(fold, wire) ?? Infinity;
  const later = (/** @type {StandingRow} */ row) => row.time_ms > left;
  const moved = rowsOf(fold, "moments").filter(later);
  /** @type {[number, After][]} */
  const asked = [
    ...arrivals(fold, wire).map((ms) => /** @type {[number, After]} */ ([ms, "arrival"])),
    ...moved.map((row) => /** @type {[number, After]} */ ([row.time_ms, MOVED.get(row.value.name) ?? ""])),
    ...taken(fold, IMAGED).filter(later).map((row) => /** @type {[number, After]} */ ([row.time_ms, "imaging"])),
  ];
  // As the other side sorts: by time, then by word.
  return asked.filter(([, after]) => after).sort(([a, x], [b, y]) => a - b || (x < y ? -1 : x > y ? 1 : 0));
}
