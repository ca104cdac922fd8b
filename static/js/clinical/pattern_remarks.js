/** @import { Found, Told } from "./types-found.js" */
/** @import { Look } from "./types-way.js" */
/** @import { Remark } from "./types.js" */
import { beforeValve } from "./before_valve.js";
import { stillLies } from "./deep.js";
import { decimal } from "./exact.js";
import { atRow, found } from "./found.js";
import { ATRIAL } from "./guidance.js";
import { remark } from "./remarks.js";
import { oneAnswer } from "./rows.js";
import { isUpper, siteCode } from "./sites.js";
import { stInAtrium, stLarge } from "./st_shift.js";
import { vtVf } from "./vt_vf.js";
import { inOrder, isBefore, looksOf, runs, when } from "./way.js";

/** What an intracardiac ECG shows instead of contact. */
const NO_CONTACT = ["svc", ...ATRIAL, "above_rv", "ivc", "rv_free", "outflow_pa"];

/**
 * Return the cautions before the valve, then each wire's remarks on its way.
 * @param {Told} told
 * @returns {Found[]}
 */
export function patternRemarks(told) {
  const parts = [vtVf, outflow, ivc, contactLost, stInAtrium, stLarge, pWaves, contact];
  return [...beforeValve(told), ...told.wires.flatMap((wire) => parts.flatMap((part) => part(told, wire)))];
}

/**
 * Return the readings that tell a chamber, in time.
 * @param {Told} told
 * @param {string} wire
 * @returns {Look[]}
 */
export function telling(told, wire) {
  return looksOf(told.fold, wire).filter((look) => look.chamber);
}

/** @param {Told} told @param {string} wire */
function outflow(told, wire) {
  return inRuns(told, wire, "outflow_pa", remark("outflow", "look_now", {}, [], "rv"));
}

/** Say that a wire from above shows the vein below the atrium. @param {Told} told @param {string} wire @returns {Found[]} */
function ivc(told, wire) {
  if (!isUpper(siteCode(told.fold, wire))) return [];
  return inRuns(told, wire, "ivc", remark("ivc", "look_again", {}, [], "atrium"));
}

/** Return a remark at the last of each run of a result. @param {Told} told @param {string} wire @param {string} result @param {Remark} one @returns {Found[]} */
function inRuns(told, wire, result, one) {
  const looks = telling(told, wire);
  const marks = looks.map((look) => (look.result === result ? String(look.turn) : null));
  return runs(marks).map(([first, last]) => {
    const { row } = looks[last];
    const ids = inOrder(told.fold, looks.slice(first, last + 1).map((look) => look.row.id));
    return found(one, row.path, wire, ids, last === looks.length - 1 && stillLies(told, wire, when(row)));
  });
}

/** Say where contact was followed by a pattern without it, in one pass. @param {Told} told @param {string} wire @returns {Found[]} */
function contactLost(told, wire) {
  /** @type {Found[]} */
  const all = [];
  /** @type {Look | null} */
  let touching = null;
  const looks = telling(told, wire);
  for (const look of looks) {
    if (touching && touching.turn !== look.turn) touching = null;
    if (look.result === "rv_contact") touching = look;
    else if (touching && NO_CONTACT.includes(look.result)) {
      const ids = inOrder(told.fold, [touching.row.id, look.row.id]);
      const again = looks.some((one) => one.result === "rv_contact" && isBefore(when(look.row), when(one.row)));
      const stands = !again && stillLies(told, wire, when(look.row));
      all.push(found(remark("contact_lost", "look_again"), look.row.path, wire, ids, stands));
      touching = null;
    }
  }
  return all;
}

/** Say that an atrial pattern was read where there are said to be no P waves. @param {Told} told @param {string} wire @returns {Found[]} */
function pWaves(told, wire) {
  const path = `wires/${wire}/advance.p_waves`;
  if (oneAnswer(told.fold, path) !== "none") return [];
  const rows = telling(told, wire).filter((look) => ATRIAL.includes(look.result)).map((look) => look.row);
  if (rows.length === 0) return [];
  const said = told.fold.values[path].flatMap((head) => head.entries);
  const ids = inOrder(told.fold, [...said, ...rows.map((row) => row.id)]);
  return [found(remark("p_waves_contradict", "look_again"), path, wire, ids)];
}

/** Tell of the last reading that it shows contact, and what that does not prove. @param {Told} told @param {string} wire @returns {Found[]} */
function contact(told, wire) {
  const look = telling(told, wire).at(-1);
  if (look?.result !== "rv_contact" || !look.depth || !stillLies(told, wire, when(look.row))) return [];
  return [atRow(remark("contact", "fits", { depth: decimal(look.depth) }), look.row, wire)];
}
