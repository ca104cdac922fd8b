/** @import { At, Opened } from "../types.js" */

/** A skew beyond this is no clock's; it keeps sums exact in both languages. */
export const LARGEST_SKEW_MS = 10 ** 15;

/**
 * Return Unix milliseconds of an `at`, its clock's known skew taken off; 0 when unreadable.
 * @param {At} at
 * @returns {number}
 */
export function correctedMs(at) {
  const utc = at.utc.length === 20 ? at.utc.replace(/Z$/, ".000Z") : at.utc;
  const ms = Date.parse(utc);
  // One written form only, so that both languages read the same moments.
  if (Number.isNaN(ms) || utc.length !== 24 || new Date(ms).toISOString() !== utc) return 0;
  const skew = at.skew_ms;
  return typeof skew === "number" && Math.abs(skew) <= LARGEST_SKEW_MS ? ms - skew : ms;
}

/**
 * Order by corrected time, but never against the sequence of a log.
 * @param {Opened[]} entries
 * @returns {Map<string, number>} id to time, in order
 */
export function inTime(entries) {
  /** @type {Map<string, number>} */
  const running = new Map();
  const keyed = entries.sort(bySeq).map((entry) => {
    const ms = Math.max(running.get(entry.log) ?? 0, correctedMs(entry.body.at));
    running.set(entry.log, ms);
    return { entry, ms };
  });
  keyed.sort(byTime);
  return new Map(keyed.map(({ entry, ms }) => [entry.id, ms]));
}

/**
 * Compare two entries of a record by when they were made.
 * @param {{entry: Opened, ms: number}} a
 * @param {{entry: Opened, ms: number}} b
 * @returns {number}
 */
export function byTime(a, b) {
  return a.ms - b.ms || compare(a.entry.log, b.entry.log) || bySeq(a.entry, b.entry);
}

/**
 * @param {Opened} a
 * @param {Opened} b
 * @returns {number}
 */
function bySeq(a, b) {
  return a.seq - b.seq || compare(a.id, b.id);
}

/**
 * @param {string} a
 * @param {string} b
 * @returns {number}
 */
function compare(a, b) {
  return a < b ? -1 : Number(a > b);
}
