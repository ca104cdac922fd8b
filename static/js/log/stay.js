/** @import { SiteHours, Stay } from "../types-stay.js" */

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;
/** A touch is written no oftener: the hours are whole ones. */
const TOUCH_MS = 60_000;

/**
 * @typedef {object} Facts What a record's stay on this tablet depends on.
 * @property {number} now_ms by the server's clock, as it was just told
 * @property {SiteHours} site
 * @property {boolean} isRevoked
 * @property {boolean} isOpen on a page of this tablet
 * @property {boolean} isAsked a person asked the server for it
 * @property {boolean} isShut something of it lies under a key that is not here
 * @property {boolean} isOnlyHere something of it is not on the server
 * @property {boolean} isAside something of it was set aside: the server has it, and it does not count
 * @property {boolean} isSealable what is only here can be sent without being read here
 */

/**
 * Return what is to be done with a record on this tablet. What is only here always stays,
 * and so does a case that is open. "seal": it cannot be read here any more; "remove": its
 * bytes go, too; "forget": nobody needs to be told any longer that it was here.
 * @param {Stay} stay
 * @param {Facts} facts
 * @returns {"stay" | "seal" | "remove" | "forget"}
 */
export function nextAct({ touched_ms, sealed_ms, removed_ms }, facts) {
  const { now_ms, site, isRevoked, isOpen, isAsked, isShut, isOnlyHere, isAside, isSealable } = facts;
  const bytes_ms = Math.max(site.keep_bytes_d * DAY_MS, readableMs(site));
  if (removed_ms !== null) return now_ms - removed_ms >= bytes_ms ? "forget" : "stay";
  if (isOpen) return "stay";
  const isSealed = sealed_ms !== null;
  if (isOnlyHere) return isRevoked && isSealable && !isSealed ? "seal" : "stay";
  // What is asked for is given anew, from its start: what cannot be read makes room for it.
  if ((isRevoked && !isAside) || (isAsked && (isSealed || isShut)) || now_ms - touched_ms >= bytes_ms) return "remove";
  const isOver = isRevoked || now_ms - touched_ms >= readableMs(site);
  return isOver && !isSealed ? "seal" : "stay";
}

/**
 * Return a record's stay after a contact. One that was never looked at begins now, and
 * neither the tablet's clock nor a server clock that was put back makes any of it older.
 * @param {Stay | undefined} before
 * @param {number} now_ms by the server's clock
 * @param {{isTouched: boolean, isHere: boolean}} seen isTouched: written, given or open; isHere: it has keys here
 * @returns {Stay}
 */
export function stayAfter(before, now_ms, { isTouched, isHere }) {
  const isBack = isHere && before !== undefined && before.removed_ms !== null;
  if (!before || isBack) return { touched_ms: now_ms, sealed_ms: null, removed_ms: null };
  const isLater = isTouched && now_ms - before.touched_ms >= TOUCH_MS;
  const earliest = (/** @type {number | null} */ ms) => (ms === null ? null : Math.min(ms, now_ms));
  const touched_ms = isLater ? now_ms : Math.min(before.touched_ms, now_ms);
  return { touched_ms, sealed_ms: earliest(before.sealed_ms), removed_ms: earliest(before.removed_ms) };
}

/** A running case stays readable, whatever the hours. @param {SiteHours} site */
function readableMs({ keep_readable_h, running_case_h }) {
  return Math.max(keep_readable_h, running_case_h) * HOUR_MS;
}
