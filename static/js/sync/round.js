/** @import { Store } from "../types.js" */
/** @import { Batch, Outcome, SyncReply } from "../types-sync.js" */
/** @import { Blame } from "./blame.js" */
import { openBlame } from "./blame.js";
import { sendBatch } from "./exchange.js";
import { grantOf } from "./token.js";

const LARGEST_BATCH = 500;
/** Two servers under one address would each call the other's head unknown, for ever. */
const MOST_BACKS = 3;

/**
 * @typedef {object} Course How sync has gone since the page opened.
 * @property {number} limit entries a request; halved when the server falls over a batch
 * @property {number} failures in a row
 * @property {number | null} wait_s what the server asked for
 * @property {Blame} blame
 * @property {boolean} isFresh nothing was answered yet
 * @property {number} backs answers in a row that said that the server went back
 * @property {number} allBacks how many said so, in all
 * @property {string | null} first id of the first entry of the last batch
 */

/**
 * Begin a course.
 * @returns {Course}
 */
export function newCourse() {
  return { limit: LARGEST_BATCH, failures: 0, wait_s: null, blame: openBlame(), isFresh: true, backs: 0, allBacks: 0, first: null };
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
  const { limit, blame, isFresh } = course;
  const now = Date.now();
  const wish = { catalogue, limit, passed: blame.leftOut(now), late: blame.due(now), isFirst: isFresh };
  const batch = token === null ? null : await store.wire.gather(wish);
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
  if (reply.went_back) course.allBacks += 1;
  Object.assign(course, { failures: 0, wait_s: null, isFresh: false, backs: reply.went_back ? course.backs + 1 : 0, first, limit: Math.min(LARGEST_BATCH, course.limit * 2) });
  noteAnswers(course.blame, batch, reply, times.got_ms);
  return !isStuck && course.backs < MOST_BACKS && (batch.more || more || course.blame.due(times.got_ms).size > 0);
}

/**
 * @param {Blame} blame
 * @param {Batch} batch
 * @param {SyncReply} reply
 * @param {number} now_ms
 */
function noteAnswers(blame, { rows }, { answers }, now_ms) {
  blame.taken(answers.filter(({ answer }) => answer === "kept" || answer === "had").map(({ id }) => id));
  // An entry whose place was taken is given another one first, and goes on at once.
  const isMoved = new Set(rows.filter((row) => row.moved).map(({ id }) => id));
  for (const { id, answer } of answers) {
    if (answer === "refused" || (answer === "conflict" && isMoved.has(id))) blame.refused(id, now_ms);
  }
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
    if (rows.length === 1) await refuse(store, course, rows[0].id, "storage.too_large_for_the_way");
    course.limit = Math.max(1, Math.floor(rows.length / 2));
    return true;
  }
  course.failures += 1;
  course.wait_s = after_s;
  if (status !== 401 && status !== 429 && !isPassing(status)) await passOver(store, course, rows);
  await store.wire.fail(status === 401 ? "unauthorised" : "fault", error);
  return false;
}

/**
 * One entry over which the server falls must not hold up the others: batches get
 * smaller until it stands alone, then it is left out for now.
 * @param {Store} store
 * @param {Course} course
 * @param {{id: string}[]} rows
 */
async function passOver(store, course, rows) {
  course.limit = Math.max(1, Math.floor(rows.length / 2));
  const [alone] = rows.length === 1 ? rows : [];
  if (alone && course.blame.fell(alone.id, Date.now())) await refuse(store, course, alone.id, "storage.server_falls");
}

/**
 * @param {Store} store
 * @param {Course} course
 * @param {string} id
 * @param {string} because key into the user's words
 */
async function refuse(store, { blame }, id, because) {
  await store.wire.refuse(id, because);
  blame.refused(id, Date.now());
}

/**
 * @param {number} status
 * @returns {boolean} the server is away or busy; no entry is to blame
 */
function isPassing(status) {
  return status === 502 || status === 503 || status === 504;
}
