/** @import { Base, EntryRow, MetaRows, SyncState } from "../types.js" */
import { knownUpTo } from "./sure.js";
import { result } from "./transaction.js";

/**
 * Read, within a transaction, the entries beyond what the server is sure to hold of each log.
 * @param {IDBTransaction} tx
 * @param {MetaRows["log"]} log
 * @param {SyncState} sync
 * @returns {Promise<EntryRow[]>}
 */
export async function unsentRows(tx, log, sync) {
  const lists = beyondHeld(log, sync).map((range) => result(tx.objectStore("entries").getAll(range)));
  // Without its words it is not what the server is to have.
  return (await Promise.all(lists)).flat().filter(({ erased }) => !erased);
}

/**
 * Count them without reading them: the strip asks at every tap.
 * @param {IDBTransaction} tx
 * @param {MetaRows["log"]} log
 * @param {SyncState} sync
 * @returns {Promise<number>}
 */
export async function countUnsent(tx, log, sync) {
  const counts = beyondHeld(log, sync).map((range) => result(tx.objectStore("entries").count(range)));
  return (await Promise.all(counts)).reduce((sum, count) => sum + count, 0);
}

/**
 * What was counted last, of a log whose places were these.
 * @type {WeakMap<Base, {tips: {[log: string]: number}, moves: number, count: number}>}
 */
const counted = new WeakMap();

/**
 * Count this tablet's own entries. Counting them one by one holds up the next tap, and
 * each place that a log grew by since is one entry more; where one shrank, or entries got
 * other places, all are counted anew.
 * @param {Base} base
 * @param {IDBTransaction} tx
 * @param {MetaRows["log"]} log
 * @returns {Promise<number>}
 */
export async function countOwn(base, tx, { tips, moves = 0 }) {
  const last = counted.get(base);
  const grew = last?.moves === moves && Object.keys(last.tips).every((name) => (tips[name] ?? 0) >= last.tips[name]);
  const sum = (/** @type {{[log: string]: number}} */ of) => Object.values(of).reduce((all, tip) => all + tip, 0);
  const count = last && grew ? last.count + sum(tips) - sum(last.tips) : await result(tx.objectStore("entries").count());
  counted.set(base, { tips, moves, count });
  return count;
}

/**
 * Read what is still to be sent. What was refused is not: it is shown.
 * @param {IDBTransaction} tx
 * @param {MetaRows["log"]} log
 * @param {SyncState} sync
 * @returns {Promise<EntryRow[]>}
 */
export async function waitingRows(tx, log, sync) {
  const ruled = new Set(await result(tx.objectStore("rulings").getAllKeys()));
  return (await unsentRows(tx, log, sync)).filter(({ id }) => !ruled.has(id));
}

/**
 * Tell whether something is still to be sent.
 * @param {IDBTransaction} tx
 * @param {MetaRows["log"]} log
 * @param {SyncState} sync
 * @returns {Promise<boolean>}
 */
export async function isAnyWaiting(tx, log, sync) {
  return (await waitingRows(tx, log, sync)).length > 0;
}

/**
 * @param {MetaRows["log"]} log
 * @param {SyncState} sync
 * @returns {IDBKeyRange[]} one for each log
 */
function beyondHeld({ tips }, sync) {
  return Object.keys(tips).map((log) => IDBKeyRange.bound([log, knownUpTo(sync, log) + 1], [log, Infinity]));
}
