/** @import { Found, Told } from "./types-found.js" */
/** @import { Exact } from "./types.js" */
import { entriesOf } from "./evidence.js";
import { decimal, isLess, number, ratio } from "./exact.js";
import { found } from "./found.js";
import { isOver } from "./over.js";
import { remark } from "./remarks.js";
import { oneAnswer, point, rowsOf } from "./rows.js";

const LIMIT_KEY = "balloon_volume_max_ml";
const AT_END = "finish.balloon_left_ml";
/** The catalogue's hard range of a balloon's volume, mL. @type {[Exact, Exact]} */
const HARD_ML = [ratio(0n, 1n), ratio(3n, 1n)];

/**
 * Return volumes above the limit, or above what is stated on the wire.
 * @param {Told} told
 * @param {string} wire
 * @returns {Found[]}
 */
export function balloonVolume(told, wire) {
  const limit = number(told.limits[LIMIT_KEY]);
  const path = `wires/${wire}/approach.wire_balloon_ml`;
  const stated = ml(oneAnswer(told.fold, path));
  const stands = !isOver(told.fold, wire);
  /** @type {Found[]} */
  const all = [];
  if (stated && limit && isLess(limit, stated)) {
    const one = remark("balloon_volume", "look_again", values(stated, limit), [LIMIT_KEY]);
    all.push(found(one, path, wire, entriesOf(told.fold, [path]), stands));
  }
  const inside = filled(told, wire);
  for (const { path: where, ids, volume } of inside) {
    const isOverLimit = limit !== null && isLess(limit, volume);
    if (!isOverLimit && !(stated && isLess(stated, volume))) continue;
    const one = isOverLimit
      ? remark("balloon_over_limit", "look_again", values(volume, limit), [LIMIT_KEY])
      : remark("balloon_over_stated", "look_again", values(volume, /** @type {Exact} */ (stated)));
    all.push(found(one, where, wire, ids, stands && ids === inside.at(-1)?.ids));
  }
  return all;
}

/** Return each volume told to be in the balloon. @param {Told} told @param {string} wire @returns {{path: string, ids: string[], volume: Exact}[]} */
function filled(told, wire) {
  const under = `wires/${wire}/advance`;
  const read = rowsOf(told.fold, `${under}.depth_reading`, `${under}.balloon`).flatMap((row) => {
    const volume = ml(row.value[row.path.endsWith("/advance.balloon") ? "left_ml" : "balloon_ml"]);
    return volume ? [{ path: row.path, ids: [row.id], volume }] : [];
  });
  const atEnd = told.wires.length === 1 ? ml(oneAnswer(told.fold, AT_END)) : null;
  return atEnd ? [...read, { path: AT_END, ids: entriesOf(told.fold, [AT_END]), volume: atEnd }] : read;
}

/** @param {any} value any: a quantity as kept @returns {Exact | null} mL */
function ml(value) {
  return number(point(value, "mL", HARD_ML).n);
}

/** @param {Exact} volume @param {Exact} bound */
function values(volume, bound) {
  return { volume: decimal(volume), bound: decimal(bound) };
}
