/** @import { Found, Told } from "./types-found.js" */
/** @import { Tip, When } from "./types-way.js" */
/** @import { StandingRow } from "./types.js" */
import { compare, decimal, isLess, number } from "./exact.js";
import { atRow, found } from "./found.js";
import { isOver } from "./over.js";
import { remark } from "./remarks.js";
import { rowsOf } from "./rows.js";
import { siteCode, siteSide } from "./sites.js";
import { seenInVentricle, tipsOf } from "./tips.js";
import { countBefore, inOrder, isBefore, passesOf, runs, when } from "./way.js";

/**
 * Return the policy's key of a site and side, "" where there is none.
 * @param {string} site
 * @param {string} side
 * @returns {string}
 */
export function deepLimitKey(site, side) {
  if (!site) return "";
  return `deep_limit_cm.${site === "femoral" ? site : `${site}_${side}`}`;
}

/**
 * Return where a tip was at or beyond its limit. Look now without an RV pattern or capture in
 * that pass, or with resistance.
 * @param {Told} told
 * @param {string} wire
 * @returns {Found[]}
 */
export function deep(told, wire) {
  const key = deepLimitKey(...siteSide(siteCode(told.fold, wire)));
  const limit = number(told.limits[key]);
  if (!limit) return [];
  const tips = tipsOf(told.fold, wire);
  const kinds = tips.map((tip, n) => (isLess(tip.depth, limit) ? null : kind(told, wire, tips, n)));
  const marks = tips.map((tip, n) => (kinds[n] === null ? null : `${kinds[n]} ${tip.turn}`));
  return runs(marks).map(([first, last]) => {
    const tip = tips[last];
    const ids = inOrder(told.fold, tips.slice(first, last + 1).map((one) => one.id));
    const values = { depth: decimal(tip.depth) };
    const one =
      kinds[last] === "coil"
        ? remark("too_deep_coil", "look_now", values, [key], "stop_film")
        : remark("deeper_than_usual", "look_again", values, [key], "image_deep");
    return found(one, tip.path, wire, ids, last === tips.length - 1 && stillLies(told, wire, tip.when));
  });
}

/**
 * Tell whether no new pass began since then, and the wire is not out.
 * @param {Told} told
 * @param {string} wire
 * @param {When} at
 * @returns {boolean}
 */
export function stillLies(told, wire, at) {
  const passes = passesOf(told.fold, wire);
  return countBefore(passes, at) === passes.length && !isOver(told.fold, wire);
}

/**
 * Return where a wire met resistance or could not be moved. It no longer stands once the wire
 * was read elsewhere, or a new pass began.
 * @param {Told} told
 * @param {string} wire
 * @returns {Found[]}
 */
export function resistance(told, wire) {
  const tips = tipsOf(told.fold, wire);
  return resistanceRows(told, wire).map((row) => {
    const stands = stillLies(told, wire, when(row)) && !hasMoved(tips, row);
    return atRow(remark("resistance", "look_now", {}, [], "stop_film"), row, wire, stands);
  });
}

/** What a depth beyond the limit is taken for, by what its pass has shown. @param {Told} told @param {string} wire @param {Tip[]} tips @param {number} n */
function kind(told, wire, tips, n) {
  const passes = passesOf(told.fold, wire);
  const until = n + 1 < tips.length ? tips[n + 1].when : null;
  const isShown = (/** @type {When} */ at) => (until === null || isBefore(at, until)) && countBefore(passes, at) === tips[n].turn;
  if (resistanceRows(told, wire).map(when).some(isShown)) return "coil";
  return seenInVentricle(told.fold, wire).some(isShown) ? "deep" : "coil";
}

/** @param {Told} told @param {string} wire @returns {StandingRow[]} */
function resistanceRows(told, wire) {
  return rowsOf(told.fold, `wires/${wire}/advance.resistance`);
}

/** @param {Tip[]} tips @param {StandingRow} row */
function hasMoved(tips, row) {
  const before = tips.filter((tip) => !isBefore(when(row), tip.when));
  const last = before.at(-1);
  return last !== undefined && tips.slice(before.length).some((tip) => compare(tip.depth, last.depth) !== 0);
}
