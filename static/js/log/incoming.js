/** @import { Base, Keys, MetaRows, Reader, SyncState } from "../types.js" */
/** @import { Batch, Ruled, Sorted, SyncReply } from "../types-sync.js" */
import { eraseHere, noteErased } from "./erasing.js";
import { keepLimits } from "./limits-kept.js";
import { underLock } from "./lock.js";
import { NEVER_SYNCED, metaRow, putMeta } from "./meta.js";
import { isNoteworthy, sortPulled } from "./pulled.js";
import { refile } from "./refile.js";
import { sureAfter } from "./sure.js";
import { result } from "./transaction.js";
import { isAnyWaiting } from "./unsent.js";
import { uuid7 } from "./uuid.js";

/**
 * Keep what the server answered: rulings, entries of others sealed again under this
 * tablet's key, and what was pulled up to; marker and data in one transaction.
 * @param {{base: Base, keys: Keys, reader: Reader, lock: string}} shelf
 * @param {Batch} sent
 * @param {SyncReply} reply
 * @param {{sent_ms: number, got_ms: number}} times by this tablet's clock
 * @returns {Promise<{records: string[], more: boolean}>} the records that changed; whether more is to be pulled
 */
export async function takeIn(shelf, sent, reply, times) {
  const sorted = await sortPulled(shelf, reply);
  // Under the log's lock: a log that the server knows further than we do ends here.
  const { isBehind, moved } = await underLock(shelf.lock, async () => {
    const behind = await keep(shelf, sent, reply, sorted, skewOf(reply, times));
    // Whatever hinders it, the next contact tries again: what was told is kept already.
    await eraseHere(shelf).catch(() => {});
    return { isBehind: behind, moved: await refile(shelf) };
  });
  sorted.changed.push(...moved);
  const ids = new Set(reply.answers.filter(isNoteworthy).map(({ id }) => id));
  const ruled = sent.rows.filter((row) => ids.has(row.id)).map((row) => row.record);
  const records = [...new Set([...sorted.changed, ...ruled])];
  for (const record of records) shelf.reader.stale(record);
  const isGiven = !shelf.keys.isLocked && (sent.tell !== null || reply.pull.some(({ more }) => more));
  return { records, more: isBehind || moved.length > 0 || reply.went_back || isGiven };
}

/**
 * @param {{base: Base, keys: Keys}} shelf
 * @param {Batch} sent
 * @param {SyncReply} reply
 * @param {Sorted} sorted
 * @param {number} skew_ms
 * @returns {Promise<boolean>} true: the server knows this tablet's log further than this database does
 */
function keep({ base, keys }, sent, reply, sorted, skew_ms) {
  return base.transact(["meta", "entries", "pulled", "rulings", "keys"], "readwrite", async (tx) => {
    const log = /** @type {MetaRows["log"]} */ (await metaRow(tx, "log"));
    const before = (await metaRow(tx, "sync")) ?? NEVER_SYNCED;
    const since = (await metaRow(tx, "since")) ?? { of: {} };
    const enrolment = await metaRow(tx, "enrolment");
    const sync = nextState(before, sent, reply, skew_ms);
    for (const key of sorted.keys) tx.objectStore("keys").put(key);
    for (const row of sorted.rows) tx.objectStore("pulled").add(row);
    // Before the rulings change: those that were answered beyond a gap stand there.
    sync.sure = reply.went_back ? {} : await sureAfter(tx, log, before, reply.answers);
    keepRulings(tx, sent, reply, sorted.own, sync);
    if (before.went_back) sync.went_back ||= await isAnyWaiting(tx, log, sync);
    putMeta(tx, "sync", sync);
    // This database is an older copy of itself: its next seq is taken already, and what
    // it lost is the server's to give back.
    const taken = new Set(reply.answers.filter(({ answer }) => answer === "conflict").map(({ id }) => id));
    const isTaken = sent.rows.some((row) => taken.has(row.id) && !row.moved);
    const isBehind = isTaken || (sync.held[log.current] ?? 0) > (log.tips[log.current] ?? 0);
    if (isBehind) putMeta(tx, "log", { ...log, current: uuid7() });
    const pull = keys.isLocked ? [] : reply.pull;
    putMeta(tx, "since", isBehind ? { of: {} } : nextSince(since, { ...reply, pull }));
    if (!reply.revoked) putMeta(tx, "people", { list: reply.people });
    if (reply.settings) putMeta(tx, "settings", reply.settings);
    await noteErased(tx, { ...reply, pull });
    await keepLimits(tx, reply);
    if (enrolment) putMeta(tx, "enrolment", { ...enrolment, server_key: reply.server_key });
    return isBehind;
  });
}

/**
 * @param {SyncState} before
 * @param {Batch} sent
 * @param {SyncReply} reply
 * @param {number} skew_ms
 * @returns {SyncState}
 */
function nextState(before, sent, reply, skew_ms) {
  const held = Object.fromEntries(reply.logs.map((log) => [log.log, log.held]));
  const last_sync_ms = Date.parse(reply.server_time) + skew_ms;
  const reach = reply.revoked ? "revoked" : "yes";
  const lost = reply.lost ?? before.lost ?? 0;
  // A server that knows of less than it was told of was put back, too.
  const tell = reply.went_back || lost < (before.lost ?? 0) ? 0 : sent.tell;
  const { head, went_back } = reply;
  return { reach, last_error: null, last_sync_ms, skew_ms, head, went_back, held, lost, tell };
}

/**
 * @param {MetaRows["since"]} since
 * @param {SyncReply} reply
 * @returns {MetaRows["since"]}
 */
function nextSince(since, { pull, went_back }) {
  const upto = Object.fromEntries(pull.map((part) => [part.record, part.upto]));
  // A server that went back gives every record from its start, in this very answer.
  return { of: { ...(went_back ? {} : since.of), ...upto } };
}

/**
 * Keep only rulings that say something: those on entries that do not count, and those
 * beyond a gap, which the contiguous seq cannot tell.
 * @param {IDBTransaction} tx
 * @param {Batch} sent
 * @param {SyncReply} reply
 * @param {Ruled[]} pulled
 * @param {SyncState} sync
 */
function keepRulings(tx, sent, reply, pulled, { held }) {
  const store = tx.objectStore("rulings");
  if (reply.went_back) store.clear();
  const rows = new Map(sent.rows.map((row) => [row.id, row]));
  const answered = reply.answers.flatMap((ruling) => {
    const row = rows.get(ruling.id);
    return row ? [{ ruling, log: row.log, seq: row.seq }] : [];
  });
  for (const { ruling, log, seq } of [...answered, ...pulled]) {
    if (isNoteworthy(ruling) || seq > (held[log] ?? 0)) store.put(ruling);
    else store.delete(ruling.id);
  }
}

/**
 * @param {SyncReply} reply
 * @param {{sent_ms: number, got_ms: number}} times
 * @returns {number} this clock minus the server's
 */
function skewOf({ server_time }, { sent_ms, got_ms }) {
  return Math.round((sent_ms + got_ms) / 2) - Date.parse(server_time);
}
