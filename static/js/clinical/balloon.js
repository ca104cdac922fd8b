/** @import { Fold } from "../types.js" */
/** @import { BalloonTold, Pulled, When } from "./types-way.js" */
/** @import { Exact, StandingRow } from "./types.js" */
import { finalTold } from "./depth_moved.js";
import { isLess, minus, most, ratio } from "./exact.js";
import { AT_HUB, readAt } from "./read_at.js";
import { isObject, placesOf, rowsOf } from "./rows.js";
import { depthOf, when } from "./way.js";

export const AT_END = "finish.balloon_at_end";
const STATES = ["up", "down", "some_left", "not_balloon", "not_known"];
/** None of these says that it was let down. */
export const STILL_UP = ["", "not_known", "up"];
const GROUPS = ["advance.depth_reading", "advance.resistance", "advance.balloon", "checks.check"];
/** domain 2e: always deflated before withdrawing; clinical 5: any decrease from 1 cm. */
const DECREASE_CM = ratio(1n, 1n);

/**
 * Return everything told of a wire's balloon and depth, in time.
 * @param {Fold} fold
 * @param {string} wire
 * @returns {BalloonTold[]}
 */
export function balloonTold(fold, wire) {
  const rows = rowsOf(fold, ...GROUPS.map((group) => `wires/${wire}/${group}`));
  return [...rows.map(told), ...finals(fold, wire), ...atEnd(fold)].sort((a, b) => a.when[0] - b.when[0] || a.when[1] - b.when[1]);
}

/**
 * Return what told the balloon's state last, or null.
 * @param {BalloonTold[]} all
 * @returns {BalloonTold | null}
 */
export function lastState(all) {
  return all.filter((one) => one.state).at(-1) ?? null;
}

/**
 * Return each decrease of depth, 1 cm or more, while last marked up. Like is compared with
 * like; small steps back add up.
 * @param {BalloonTold[]} all
 * @returns {Pulled[]}
 */
export function pulledBackUp(all) {
  /** @type {Pulled[]} */
  const found = [];
  let [state, markedBy] = ["", ""];
  /** @type {Map<string, Exact>} */
  const last = new Map();
  /** @type {Map<string, Exact>} */
  let peaks = new Map();
  for (const one of all) {
    const isStillUp = state === "up" && STILL_UP.includes(one.state);
    const peak = peaks.get(one.read_at);
    if (one.depth && isStillUp && peak) {
      const isBack = !isLess(minus(peak, DECREASE_CM), one.depth);
      if (isBack) found.push({ at: one, before: peak, marked_by: markedBy });
      peaks.set(one.read_at, isBack ? one.depth : most([peak, one.depth]));
    } else if (one.depth) peaks.set(one.read_at, one.depth);
    if (one.depth) last.set(one.read_at, one.depth);
    if (["", "not_known", state].includes(one.state)) continue;
    [state, markedBy] = [one.state, one.id];
    peaks = new Map(last);
  }
  return found;
}

/** @param {StandingRow} row @returns {BalloonTold} */
function told(row) {
  const name = row.path.endsWith("/advance.balloon") ? "state" : "balloon";
  const { id, path } = row;
  return { id, path, state: stateOf(row.value[name]), depth: depthOf(row), read_at: readAt(row.value), when: when(row) };
}

/** Return the depth that Advance ends with, as a depth told when it was entered. @param {Fold} fold @param {string} wire @returns {BalloonTold[]} */
function finals(fold, wire) {
  const path = `wires/${wire}/advance.final_depth`;
  return finalTold(fold, wire).map(({ entry, depth: { depth, read_at } }) => {
    /** @type {When} */
    const at = [fold.entries[entry].time_ms, placesOf(fold).get(entry) ?? 0];
    return { id: entry, path, state: "", depth, read_at, when: at };
  });
}

/** @param {any} value any: as kept @returns {string} */
function stateOf(value) {
  if (isObject(value) && value.absent === "not_known") return "not_known";
  return STATES.includes(value) ? value : "";
}

/** Return what was told at the end; of two answers "up" is the last word. @param {Fold} fold @returns {BalloonTold[]} */
function atEnd(fold) {
  const heads = fold.values[AT_END] ?? [];
  const entries = heads.flatMap((head) => head.entries.map((id) => ({ id, state: stateOf(head.value) })));
  const latest = Math.max(0, ...entries.map(({ id }) => placesOf(fold).get(id) ?? 0));
  /** @type {() => When} */
  const at = () => [fold.entries[fold.order[latest]].time_ms, latest];
  const upLast = entries.toSorted((a, b) => Number(a.state === "up") - Number(b.state === "up"));
  return upLast.filter(({ state }) => state).map((one) => ({ ...one, path: AT_END, depth: null, read_at: AT_HUB, when: at() }));
}
