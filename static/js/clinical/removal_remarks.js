/** @import { Found, Told } from "./types-found.js" */
/** @import { Weight } from "./types.js" */
import { balloonTold, lastState } from "./balloon.js";
import { certainEnds } from "./certain.js";
import { dependence } from "./dependence.js";
import { entriesOf } from "./evidence.js";
import { isLess, number } from "./exact.js";
import { found } from "./found.js";
import { heads, isOver } from "./over.js";
import { remark } from "./remarks.js";
import { ownRhythm, ownRows, padsOf } from "./rhythm.js";

const OUT = ["removed_rhythm_back", "removed_permanent_system", "replaced"];
const TAKEN_OVER = ["removed_permanent_system", "replaced"];
const STUCK = ["knot", "entrapment"];
const PARTS = ["tip", "electrodes", "length"];
/** "Connected, pacing mode ready" and "pacing now" alone are backup (clinical 18). */
const READY = ["connected_ready", "pacing_now"];
const LEAST_RATE = "own_rhythm_minimum_per_min";
const RESTS_ON = ["own_rhythm", "own_rate", "pads", "permanent_leads"];
/** @type {{[code: string]: string}} */
const ASKS = {
  removal_resistance: "stop_and_film",
  removal_not_completed: "removal_elsewhere",
  removal_balloon_up: "balloon_then_out",
  removal_balloon_some_left: "balloon_then_out",
};

/**
 * Return one wire's remarks on its removal.
 * @param {Told} told
 * @param {string} wire
 * @returns {Found[]}
 */
export function removalRemarks(told, wire) {
  const { isBalloon, last } = balloon(told, wire);
  const isHere = says(told, wire, "event", "removal_here");
  const all = [...dependent(told, wire), ...(isHere && isBalloon ? balloonFound(told, wire, last) : [])];
  if (says(told, wire, "resistance", "yes")) {
    const felt = one(told, wire, "resistance", "removal_resistance", "look_now");
    // Once it is out there is nothing left to stop.
    all.push({ ...felt, stands: !isOver(told.fold, wire) });
  }
  for (const part of PARTS) {
    if (says(told, wire, `${part}_complete`, "no")) all.push(one(told, wire, `${part}_complete`, `removal_${part}_missing`, "look_now"));
  }
  const isStuck = STUCK.some((why) => says(told, wire, "completed", why));
  if (isStuck && heads(told.fold, `wires/${wire}/removal.site`).length === 0) {
    all.push(one(told, wire, "completed", "removal_not_completed", "look_again"));
  }
  return all;
}

/**
 * Say that it comes out while the own rhythm, as last told, is not reliable. Weighs Look now unless
 * pads are ready, permanent leads are in, or the own rate at the removal is enough; where nobody told
 * of it the question is open. Asystole or a slow own rate told at the removal counts whatever was
 * told earlier. Another way of pacing took over: silent.
 * @param {Told} told
 * @param {string} wire
 * @returns {Found[]}
 */
function dependent(told, wire) {
  const own = ownRows(told.fold).slice(-1);
  if (!says(told, wire, "event", "removal_here")) return [];
  const then = rhythmThen(told, wire);
  if (then !== "gone" && !own.some((row) => dependence(ownRhythm(row), told.limits).is_dependent)) return [];
  if (TAKEN_OVER.some((ending) => says(told, wire, "ending", ending))) return [];
  const path = `wires/${wire}/removal.event`;
  const pads = padsOf(told.fold).states.slice(-1);
  const said = heads(told.fold, `wires/${wire}/removal.pads`);
  const state = said.length > 0 ? said : pads.map((row) => row.value.state);
  const isReady = says(told, wire, "permanent_leads", "yes") || (state.length > 0 && state.every((one) => READY.includes(one)));
  const weight = isReady || then === "enough" ? "look_again" : "look_now";
  const one = remark("removal_dependent", weight, {}, LEAST_RATE in told.limits ? [LEAST_RATE] : [], "own_rhythm_first");
  const paths = [path, ...RESTS_ON.map((name) => `wires/${wire}/removal.${name}`)];
  const evidence = entriesOf(told.fold, paths, [...own, ...pads]);
  return [found(one, path, wire, evidence, !isOver(told.fold, wire))];
}

/**
 * Return what the removal itself tells of the own rhythm: "gone", "enough", or "". Of several
 * answers the worst counts. A child has no limit: only asystole is told.
 * @param {Told} told
 * @param {string} wire
 * @returns {string}
 */
function rhythmThen(told, wire) {
  if (says(told, wire, "own_rhythm", "asystole")) return "gone";
  const least = number(told.limits[LEAST_RATE]);
  const rates = heads(told.fold, `wires/${wire}/removal.own_rate`).map((one) => certainEnds(one, "/min"));
  if (!least || rates.length === 0) return "";
  if (rates.some(([, high]) => high && isLess(high, least))) return "gone";
  return rates.every(([low]) => low && !isLess(low, least)) ? "enough" : "";
}

/** @param {Told} told @param {string} wire @param {string} name @param {string} code @param {Weight} weight */
function one(told, wire, name, code, weight) {
  const path = `wires/${wire}/removal.${name}`;
  return found(remark(code, weight, {}, [], ASKS[code] ?? ""), path, wire, entriesOf(told.fold, [path]));
}

/** @param {Told} told @param {string} wire @param {string} name @param {string} value */
function says(told, wire, name, value) {
  return heads(told.fold, `wires/${wire}/removal.${name}`).includes(value);
}

/** Whether the wire has a balloon, and its state as last told, else "". @param {Told} told @param {string} wire */
function balloon(told, wire) {
  const last = lastState(balloonTold(told.fold, wire))?.state ?? "";
  const isTipped = heads(told.fold, `wires/${wire}/approach.wire_kind`).includes("balloon_tipped");
  const hasOne = isTipped || ["up", "down", "some_left"].includes(last);
  return { isBalloon: hasOne && last !== "not_balloon", last };
}

/**
 * Return what is said of balloon and syringe. Before it is out: only that it is still marked up,
 * or with some left. After: "no", or nobody said and it was last marked so.
 * @param {Told} told
 * @param {string} wire
 * @param {string} last
 * @returns {Found[]}
 */
function balloonFound(told, wire, last) {
  const isEnded = OUT.some((ending) => says(told, wire, "ending", ending));
  const isOut = isEnded || heads(told.fold, `wires/${wire}/removal.removed_at`).length > 0;
  const said = heads(told.fold, `wires/${wire}/removal.balloon_down`);
  /** @type {Found[]} */
  const all = [];
  const still = last === "some_left" ? "some_left" : "up";
  const say = (/** @type {string} */ after) =>
    all.push(one(told, wire, "balloon_down", `removal_balloon_${isOut ? after : still}`, "look_now"));
  if (said.includes("no")) say("not_down");
  else if (said.length === 0 && last === still) say("unsaid");
  if (says(told, wire, "syringe_empty", "no")) all.push(one(told, wire, "syringe_empty", "removal_syringe", "look_again"));
  return all;
}
