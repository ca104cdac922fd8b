/** @import { Fold } from "../types.js" */
/** @import { Found, Told } from "./types-found.js" */
import { entriesOf, inOrder } from "./evidence.js";
import { number } from "./exact.js";
import { found } from "./found.js";
import { hasDied, heads } from "./over.js";
import { remark } from "./remarks.js";
import { momentMs, rowsOf } from "./rows.js";
import { elapsed, secondsOf } from "./shown.js";

const PATH = "approach.sedation_observation";
const GIVEN = "approach.sedative_given";
const START = "approach.sedation_start";
const STOP = "approach.sedation_stop";
const MINUTE_MS = 60_000n;
const LIMIT = "sedation_obs_min";

/** @typedef {{ms: number, ids: string[]}} Point a moment seen, or sedation began or ended */

/**
 * Return the longest gap that was, then the one that is now, beyond the limit. Without now an
 * open record ends with its last observation.
 * @param {Told} told
 * @returns {Found[]}
 */
export function sedationRemarks({ fold, limits, now_ms }) {
  const minutes = number(limits[LIMIT]);
  const start = startOf(fold);
  if (!minutes || !start) return [];
  const stop = stopOf(fold);
  const rows = rowsOf(fold, PATH, "indication.observations");
  const seen = rows.filter((row) => row.time_ms >= start.ms && (!stop || row.time_ms <= stop.ms));
  const points = [start, ...seen.map((row) => ({ ms: row.time_ms, ids: [row.id] })), ...(stop ? [stop] : [])];
  const isLong = (/** @type {number} */ ms) => BigInt(ms) * minutes.d > minutes.n * MINUTE_MS;
  const gaps = points
    .slice(1)
    .map((after, n) => ({ ms: after.ms - points[n].ms, ids: [...points[n].ids, ...after.ids] }))
    .filter((gap) => isLong(gap.ms));
  const all = gaps.length ? [gapFound(fold, gaps.reduce((a, b) => (b.ms > a.ms ? b : a)), false)] : [];
  if (stop || now_ms === null || hasDied(fold)) return all;
  const last = points[points.length - 1];
  const since = now_ms - last.ms;
  return isLong(since) ? [...all, gapFound(fold, { ms: since, ids: last.ids }, true)] : all;
}

/** @param {Fold} fold @param {Point} gap @param {boolean} stands @returns {Found} */
function gapFound(fold, { ms, ids }, stands) {
  const one = remark("sedation_unobserved", "look_again", { elapsed: elapsed(secondsOf(ms)) }, [LIMIT]);
  return found(one, PATH, "", fold.order.filter((id) => ids.includes(id)), stands);
}

/**
 * Return the start said; else the first sedative, else when one was said given.
 * @param {Fold} fold
 * @returns {Point | null}
 */
function startOf(fold) {
  const said = moments(fold, START);
  if (said.length) return { ms: Math.min(...said), ids: entriesOf(fold, [START]) };
  const drugs = rowsOf(fold, "approach.sedation_drug").filter((row) => row.value.reversal !== "yes");
  if (drugs.length) return { ms: drugs[0].time_ms, ids: inOrder(drugs.slice(0, 1)) };
  if (!heads(fold, GIVEN).includes("yes")) return null;
  const ids = entriesOf(fold, [GIVEN]);
  return { ms: Math.min(...ids.map((id) => fold.entries[id].time_ms)), ids };
}

/** @param {Fold} fold @returns {Point | null} */
function stopOf(fold) {
  const said = moments(fold, STOP);
  return said.length ? { ms: Math.max(...said), ids: entriesOf(fold, [STOP]) } : null;
}

/** @param {Fold} fold @param {string} path @returns {number[]} */
function moments(fold, path) {
  return heads(fold, path).map(momentMs).filter((ms) => ms !== null);
}
