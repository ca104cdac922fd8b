/** @import { Found, Told } from "./types-found.js" */
/** @import { Crossing, When } from "./types-way.js" */
/** @import { Remark } from "./types.js" */
import { entriesOf, lastMs } from "./evidence.js";
import { found } from "./found.js";
import { heads, isOver } from "./over.js";
import { isPacingAt, padsOf } from "./rhythm.js";
import { seenInVentricle } from "./tips.js";
import { looksOf, when } from "./way.js";

export const CAUTION = "indication.caution_";
/** A wire for the atrium or the coronary sinus is not meant to cross. */
const NOT_ACROSS = ["ra", "cs_lv"];

/**
 * Return the first crossing of these wires, or of all.
 * @param {Told} told
 * @param {...string} wires
 * @returns {Crossing}
 */
export function crossingOf(told, ...wires) {
  const crossers = (wires.length ? wires : told.wires).filter((wire) => isMeant(told, wire));
  const seen = crossers.flatMap((wire) => crossed(told, wire)).map(([time_ms]) => time_ms);
  const at_ms = seen.length ? Math.min(...seen) : null;
  const isTold = heads(told.fold, "finish.outcome").length > 0;
  const left = told.wires.length === 0 || crossers.some((wire) => !isOver(told.fold, wire));
  const is_meant = crossers.length > 0 || told.wires.length === 0;
  return { is_meant, at_ms, is_ahead: at_ms === null && !isTold && left };
}

/**
 * Return whether pads were ready at the crossing, or are now; whether none are.
 * @param {Told} told
 * @param {Crossing} crossing
 * @returns {{ready: boolean, has_none: boolean}}
 */
export function padsReady(told, { at_ms }) {
  const pads = padsOf(told.fold);
  const state = pads.states.filter((row) => at_ms === null || row.time_ms <= at_ms).at(-1)?.value.state ?? "";
  const paces = isPacingAt(pads, at_ms ?? lastMs(told.fold));
  return { ready: ["connected_ready", "pacing_now"].includes(state) || paces, has_none: state === "none" };
}

/**
 * Return a remark where a caution was answered yes.
 * @param {Told} told
 * @param {string} name
 * @param {Remark} one
 * @param {boolean} stands
 * @returns {Found[]}
 */
export function cautioned(told, name, one, stands) {
  const path = `${CAUTION}${name}`;
  if (!heads(told.fold, path).includes("yes")) return [];
  return [found(one, path, "", entriesOf(told.fold, [path]), stands)];
}

/** @param {Told} told @param {string} wire */
function isMeant(told, wire) {
  const chambers = heads(told.fold, `wires/${wire}/approach.chamber`);
  return chambers.length === 0 || chambers.some((one) => !NOT_ACROSS.includes(one));
}

/** @param {Told} told @param {string} wire @returns {When[]} */
function crossed(told, wire) {
  const beyond = looksOf(told.fold, wire).filter((look) => look.chamber === "outflow");
  return [...seenInVentricle(told.fold, wire), ...beyond.map((look) => when(look.row))];
}
