/** @import { Batch, Outcome, Store, SyncReply } from "../types.js" */
import { sendBatch } from "./exchange.js";
import { grantOf } from "./token.js";

const LARGEST_BATCH = 500;

/**
 * @typedef {object} Course How sync has gone since the page opened.
 * @property {number} limit entries a request; halved when the server falls over a batch
 * @property {number} failures in a row
 * @property {number | null} wait_s what the server asked for
 * @property {Set<string>} passed ids left out for now, because the server falls over them
 * @property {string | null} first id of the first entry of the last batch
 */

/**
 * Begin a course.
 * @returns {Course}
 */
export function newCourse() {
  return { limit: LARGEST_BATCH, failures: 0, wait_s: null, passed: new Set(), first: null };
}

/**
 * Exchange once with the server. Whatever goes wrong, every entry stays.
 * @param {Store} store
 * @param {Course} course changed
 * @param {number} catalogue its version
 * @returns {Promise<boolean>} true: more waits, and another exchange may follow at once
 */
export async function exchangeOnce(store, course, catalogue) {
  const token = await store.wire.token();
  const { limit, passed } = course;
  const batch = token === null ? null : await store.wire.gather({ catalogue, limit, passed });
  if (token === null || batch === null) return false;
  const sent_ms = Date.now();
  const outcome = await sendBatch(batch, token, grantOf(store));
  if (outcome.kind === "reply") return succeed(store, course, batch, outcome.json, { sent_ms, got_ms: Date.now() });
  return fail(store, course, batch, outcome);
}

/**
 * @param {Store} store
 * @param {Course} course
 * @param {Batch} batch
 * @param {SyncReply} reply
 * @param {{sent_ms: number, got_ms: number}} times
 * @returns {Promise<boolean>}
 */
async function succeed(store, course, batch, reply, times) {
  const { more } = await store.wire.takeIn(batch, reply, times);
  const first = batch.rows[0]?.id ?? null;
  const isStuck = first !== null && first === course.first && !reply.went_back;
  Object.assign(course, { failures: 0, wait_s: null, first, limit: Math.min(LARGEST_BATCH, course.limit * 2) });
  return !isStuck && (batch.more || more);
}

/**
 * @param {Store} store
 * @param {Course} course
 * @param {Batch} batch
 * @param {Exclude<Outcome<SyncReply>, {kind: "reply"}>} outcome
 * @returns {Promise<boolean>}
 */
async function fail(store, course, { rows }, outcome) {
  if (outcome.kind !== "refused") {
    course.failures += 1;
    if (outcome.kind === "not_ours") await store.wire.fail("not_ours", null);
    else await store.wire.fail("no", outcome.because);
    return false;
  }
  const { status, error, after_s } = outcome;
  if (status === 413 && rows.length) {
    if (rows.length === 1) await store.wire.refuse(rows[0].id, error);
    course.limit = Math.max(1, Math.floor(rows.length / 2));
    return true;
  }
  course.failures += 1;
  course.wait_s = after_s;
  if (status !== 401 && status !== 429 && !isPassing(status)) passOver(course, rows);
  await store.wire.fail(status === 401 ? "unauthorised" : "fault", error);
  return false;
}

/**
 * One entry over which the server falls must not hold up the others: batches get
 * smaller until it stands alone, then it is left out until the page opens again.
 * @param {Course} course
 * @param {{id: string}[]} rows
 */
function passOver(course, rows) {
  if (rows.length === 1) course.passed.add(rows[0].id);
  course.limit = Math.max(1, Math.floor(rows.length / 2));
}

/**
 * @param {number} status
 * @returns {boolean} the server is away or busy; no entry is to blame
 */
function isPassing(status) {
  return status === 502 || status === 503 || status === 504;
}
