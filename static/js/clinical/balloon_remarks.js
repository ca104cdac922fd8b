/** @import { Found, Told } from "./types-found.js" */
/** @import { BalloonTold } from "./types-way.js" */
/** @import { Exact } from "./types.js" */
import { AT_END, STILL_UP, balloonTold, lastState, pulledBackUp } from "./balloon.js";
import { decimal, isLess, number, plus } from "./exact.js";
import { atRow, found } from "./found.js";
import { heads, isOver } from "./over.js";
import { AT_HUB } from "./read_at.js";
import { remark } from "./remarks.js";
import { oneAnswer, point, rowsOf } from "./rows.js";
import { inOrder, isBefore, runs, when } from "./way.js";

const CLEAR_KEY = "balloon_clear_of_sheath_cm";
const FINISH = ["finish.outcome", "finish.dressing_on", AT_END];

/**
 * Return each wire's remarks on its balloon.
 * @param {Told} told
 * @returns {Found[]}
 */
export function balloonRemarks(told) {
  const parts = [upAtEnd, stillUp, noAirBack, nearSheath];
  return told.wires.flatMap((wire) => parts.flatMap((part) => part(told, wire)));
}

/** Say that the balloon was last marked up, once the end is being told. @param {Told} told @param {string} wire @returns {Found[]} */
function upAtEnd(told, wire) {
  const said = lastUp(told, wire);
  if (!said || !FINISH.some((path) => heads(told.fold, path).length)) return [];
  // Asked once for all wires: it is told once, for none of them alone.
  const isOfAll = said.path === AT_END && told.wires.length > 1;
  const alike = isOfAll ? told.wires.filter((one) => lastUp(told, one)?.id === said.id) : [wire];
  if (wire !== alike[0]) return [];
  const one = remark("balloon_up_at_end", "look_now", {}, [], "balloon_at_end");
  return [found(one, AT_END, isOfAll ? "" : wire, [said.id], !alike.every((other) => isOver(told.fold, other)))];
}

/** What last told of a wire's balloon, where that was "up". @param {Told} told @param {string} wire */
function lastUp(told, wire) {
  const said = lastState(balloonTold(told.fold, wire));
  return said?.state === "up" ? said : null;
}

/** Say that a wire was read shallower with the balloon last marked up. @param {Told} told @param {string} wire @returns {Found[]} */
function stillUp(told, wire) {
  const said = balloonTold(told.fold, wire);
  const pulled = pulledBackUp(said);
  return pulled.flatMap((one) => {
    const { at, before } = one;
    if (!at.depth) return [];
    const later = said.filter((x) => isBefore(at.when, x.when));
    const isLast = one === pulled.at(-1) && later.every((x) => STILL_UP.includes(x.state));
    const values = { before: decimal(before), depth: decimal(at.depth) };
    const ids = inOrder(told.fold, [one.marked_by, at.id]);
    return [found(remark("balloon_still_up", "look_now", values), at.path, wire, ids, isLast && !isOver(told.fold, wire))];
  });
}

/** @param {Told} told @param {string} wire @returns {Found[]} */
function noAirBack(told, wire) {
  const rows = rowsOf(told.fold, `wires/${wire}/advance.balloon`);
  const back = rows.filter((row) => row.value.air_back === "yes").map(when);
  const one = remark("balloon_no_air_back", "look_now", {}, [], "change_catheter");
  const none = rows.filter((row) => row.value.air_back === "no");
  return none.map((row) => {
    const stands = !back.some((at) => isBefore(when(row), at)) && !isOver(told.fold, wire);
    return atRow(one, row, wire, stands);
  });
}

/** Return where the balloon was marked up too near the sheath; silent without it. @param {Told} told @param {string} wire @returns {Found[]} */
function nearSheath(told, wire) {
  const clear = number(told.limits[CLEAR_KEY]);
  const length = number(point(oneAnswer(told.fold, `wires/${wire}/approach.introducer_length`), "cm").n);
  if (!clear || !length) return [];
  const said = balloonTold(told.fold, wire);
  const depths = hubDepths(said);
  const bound = plus(length, clear);
  const marks = said.map(({ state }, n) => {
    const depth = depths[n];
    return state === "up" && depth && isLess(depth, bound) ? "near" : null;
  });
  return runs(marks).flatMap(([first, last]) => {
    const depth = depths[last];
    if (!depth) return [];
    const values = { depth: decimal(depth), length: decimal(length) };
    const ids = inOrder(told.fold, said.slice(first, last + 1).map((one) => one.id));
    const stands = last === said.length - 1 && !isOver(told.fold, wire);
    return [found(remark("balloon_near_sheath", "look_again", values, [CLEAR_KEY]), said[last].path, wire, ids, stands)];
  });
}

/** Return the depth at the hub known at each row: its own, else the one before. @param {BalloonTold[]} said @returns {(Exact | null)[]} */
function hubDepths(said) {
  /** @type {Exact | null} */
  let known = null;
  return said.map(({ depth, read_at }) => {
    if (depth) known = read_at === AT_HUB ? depth : null;
    return known;
  });
}
