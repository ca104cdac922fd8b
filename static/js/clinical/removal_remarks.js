/** @import { Found, Told } from "./types-found.js" */
/** @import { Weight } from "./types.js" */
import { balloonTold, lastState } from "./balloon.js";
import { entriesOf } from "./evidence.js";
import { found } from "./found.js";
import { heads, isOver } from "./over.js";
import { remark } from "./remarks.js";

const OUT = ["removed_rhythm_back", "removed_permanent_system", "replaced"];
const STUCK = ["knot", "entrapment"];
const PARTS = ["tip", "electrodes", "length"];
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
  const all = says(told, wire, "event", "removal_here") && isBalloon ? balloonFound(told, wire, last) : [];
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
