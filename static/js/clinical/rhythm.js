/** @import { Fold } from "../types.js" */
/** @import { Exact, OwnRhythm, Pads, StandingRow } from "./types.js" */
import { certainEnds } from "./certain.js";
import { decimal } from "./exact.js";
import { isObject, momentMs, rowsOf, wirePaths } from "./rows.js";

const OWN = ["capture.own_rhythm", "checks.own_rhythm"];
const RESULTS = ["rhythm", "none", "not_tested", "not_tolerated"];

/**
 * Return every answer to "own rhythm?", of all wires, in time.
 * @param {Fold} fold
 * @returns {StandingRow[]}
 */
export function ownRows(fold) {
  return rowsOf(fold, "indication.own_rhythm", ...wirePaths(fold, OWN));
}

/**
 * Return an answer as `dependence` reads it.
 * @param {StandingRow | null} row null: not asked
 * @returns {OwnRhythm}
 */
export function ownRhythm(row) {
  if (!row) return { result: null, rate_per_min: null, is_tolerated: null, is_called_reliable: null };
  const [low] = rate(row);
  const told = RESULTS.includes(row.value.result) ? row.value.result : null;
  return {
    result: told ?? (low === null ? null : "rhythm"),
    rate_per_min: low,
    is_tolerated: yes(row.value.tolerated),
    is_called_reliable: yes(row.value.reliable),
  };
}

/**
 * Return the own rate known at a time, its higher end; null for none.
 * @param {StandingRow[]} rows in time
 * @param {number} timeMs
 * @returns {string | null}
 */
export function ownRateAt(rows, timeMs) {
  const last = rows.filter((row) => row.time_ms <= timeMs).at(-1);
  return last && ownRhythm(last).result === "rhythm" ? rate(last)[1] : null;
}

/**
 * Return what the record says about pads and skin pacing.
 * @param {Fold} fold
 * @returns {Pads}
 */
export function padsOf(fold) {
  return {
    states: rowsOf(fold, "indication.pads").filter((row) => "state" in row.value),
    spells: rowsOf(fold, "indication.skin_pacing"),
    stops: rowsOf(fold, "indication.skin_pacing_stop"),
  };
}

/**
 * Tell whether skin pacing was open as "pacing now" at a time. A spell stays open until it
 * is stopped, whatever the pads are said to be.
 * @param {Pads} pads
 * @param {number} timeMs
 * @returns {boolean}
 */
export function isPacingAt(pads, timeMs) {
  const last = pads.states.filter((row) => row.time_ms <= timeMs).at(-1);
  if (last?.value.state === "pacing_now") return true;
  return openSpells(pads, timeMs).length > 0;
}

/**
 * Return the spells of skin pacing that were open at a time.
 * @param {Pads} pads
 * @param {number} timeMs
 * @returns {StandingRow[]}
 */
export function openSpells(pads, timeMs) {
  return pads.spells.filter((spell) => isOpen(spell, pads.stops, timeMs));
}

/**
 * @param {StandingRow} spell
 * @param {StandingRow[]} stops
 * @param {number} timeMs
 * @returns {boolean}
 */
function isOpen(spell, stops, timeMs) {
  if (spell.value.state !== "paced") return false;
  if ((momentMs(spell.value.start) ?? spell.time_ms) > timeMs) return false;
  if (isObject(spell.value.stop) && !("absent" in spell.value.stop)) {
    const stop = momentMs(spell.value.stop);
    return stop !== null && timeMs < stop;
  }
  return !stops.some((row) => row.value.of === spell.id && row.time_ms <= timeMs);
}

/**
 * Return the own rate's lower and higher end, each null where not certain.
 * @param {StandingRow} row
 * @returns {[string | null, string | null]}
 */
function rate(row) {
  const found = certainEnds(row.value.rate, "/min");
  const text = (/** @type {Exact | null} */ end) => (end ? decimal(end) : null);
  return [text(found[0]), text(found[1])];
}

/**
 * @param {unknown} value
 * @returns {boolean | null}
 */
function yes(value) {
  if (value === "yes") return true;
  return value === "no" ? false : null;
}
