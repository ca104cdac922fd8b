/** @import { At, Fold, Meta } from "../types.js" */
import { LARGEST_SKEW_MS, correctedMs } from "./fold-times.js";

/**
 * Return the standing rows of a group whose place among the others is doubtful. Within
 * one log the order is its own, never doubtful; across logs it is, when either clock
 * cannot be told from (its skew unknown, its time unreadable, or set back while its log
 * was written), or when both show the same millisecond.
 * `webapp/record/order_doubts.py` gives the same; `fixtures/logs/` hold both.
 * @param {Fold} fold
 * @param {string} path
 * @returns {string[]}
 */
export function doubtfulRows({ rows, entries }, path) {
  const told = Object.hasOwn(rows, path) ? rows[path] : [];
  const ids = told.filter(({ struck }) => struck === null).map(({ id }) => id);
  const unsure = unsureOf(entries);
  const logs = new Set(ids.map((id) => entries[id].log));
  const unsureLogs = new Set(ids.filter((id) => unsure.has(id)).map((id) => entries[id].log));
  /** @type {Map<number, Set<string>>} */
  const logsAt = new Map();
  for (const id of ids) {
    const { time_ms, log } = entries[id];
    logsAt.set(time_ms, new Set(logsAt.get(time_ms)).add(log));
  }
  return ids.filter((id) => {
    const { time_ms, log } = entries[id];
    const isTied = (logsAt.get(time_ms)?.size ?? 0) > 1;
    const isOthers = [...unsureLogs].some((other) => other !== log);
    return isTied || isOthers || (logs.size > 1 && unsure.has(id));
  });
}

/**
 * Return the entries whose own clock does not tell when they were made.
 * @param {{[id: string]: Meta}} entries
 * @returns {Set<string>}
 */
function unsureOf(entries) {
  /** @type {Map<string, [string, Meta][]>} */
  const logs = new Map();
  for (const pair of Object.entries(entries)) {
    const own = logs.get(pair[1].log);
    if (own) own.push(pair);
    else logs.set(pair[1].log, [pair]);
  }
  return new Set([...logs.values()].flatMap(unsureIn));
}

/**
 * @param {[string, Meta][]} own the entries of one log
 * @returns {string[]}
 */
function unsureIn(own) {
  own.sort(([a, { seq }], [b, other]) => seq - other.seq || (a < b ? -1 : 1));
  const times = own.map(([, { at }]) => correctedMs(at));
  /** @type {Set<number>} */
  const back = new Set();
  let latest = -Infinity;
  times.forEach((ms, n) => {
    if (latest > ms) back.add(n);
    latest = Math.max(latest, ms);
  });
  let earliest = Infinity;
  for (let n = times.length - 1; n >= 0; n--) {
    if (earliest < times[n]) back.add(n);
    earliest = Math.min(earliest, times[n]);
  }
  return own.filter(([, { at }], n) => back.has(n) || !isKnown(at)).map(([id]) => id);
}

/**
 * @param {At} at
 * @returns {boolean}
 */
function isKnown(at) {
  const isSkew = typeof at.skew_ms === "number" && Math.abs(at.skew_ms) <= LARGEST_SKEW_MS;
  return isSkew && correctedMs({ ...at, skew_ms: 0 }) !== 0;
}
