/** @import { Counts, Words } from "../types.js" */

const CLOCK_OFF_MS = 2 * 60 * 1000;
const STORAGE_LOW_MB = 200;

/**
 * Say in one line where the entries are, as a key into the user's words.
 * @param {Counts} counts
 * @returns {Words}
 */
export function wordsOf({ total, unsent, onServer }) {
  if (!total) return { key: "strip.no_entries", args: {} };
  if (!unsent) return { key: "strip.all_sent", args: { total, count: onServer } };
  return unsent === total
    ? { key: "strip.none_sent", args: { total } }
    : { key: "strip.part_sent", args: { unsent, total } };
}

/**
 * Say what else there is to know, weightiest first.
 * @param {Counts} counts
 * @returns {Words[]}
 */
export function notesOf(counts) {
  const free_mb = freeMb(counts.storage);
  const minutes = Math.round(Math.abs(counts.skew_ms ?? 0) / 60000);
  /** @type {[unknown, string, Words["args"]?][]} */
  const lines = [
    [counts.older, "strip.older_form"],
    [!counts.enrolled, "strip.not_enrolled"],
    [counts.reach === "unauthorised", "strip.unauthorised"],
    [counts.reach === "revoked", "strip.revoked"],
    [counts.shut, counts.shut === 1 ? "strip.shut_one" : "strip.shut", { count: counts.shut }],
    [counts.damaged, "strip.damaged", { count: counts.damaged }],
    [counts.refused.length, "strip.refused", complaint(counts.refused)],
    [counts.conflicts.length, "strip.conflict", complaint(counts.conflicts)],
    [counts.setAside.length, "strip.set_aside", complaint(counts.setAside)],
    [counts.wentBack, "strip.went_back"],
    [counts.lost, counts.lost === 1 ? "strip.lost_one" : "strip.lost", { count: counts.lost }],
    [Math.abs(counts.skew_ms ?? 0) > CLOCK_OFF_MS, "strip.clock_off", { minutes }],
    [free_mb !== null && free_mb < STORAGE_LOW_MB, "strip.storage_low", { free_mb: free_mb ?? 0 }],
    [counts.reach === "not_ours", "strip.not_ours"],
    [counts.reach === "fault", "strip.server_fault"],
    [counts.photosRefused.length, "strip.photos_refused", complaint(counts.photosRefused)],
    [counts.photosHere, counts.photosHere === 1 ? "strip.photos_here_one" : "strip.photos_here", { count: counts.photosHere }],
    [counts.storage.persisted === false, "strip.not_persistent"],
  ];
  return lines.filter(([holds]) => holds).map(([, key, args]) => ({ key, args: args ?? {} }));
}

/**
 * @param {{because: string}[]} list
 * @returns {Words["args"]}
 */
function complaint(list) {
  return { count: list.length, because: list[0]?.because ?? "" };
}

/**
 * @param {{usage: number | null, quota: number | null}} storage
 * @returns {number | null}
 */
function freeMb({ usage, quota }) {
  return usage === null || quota === null ? null : Math.floor((quota - usage) / 1e6);
}
