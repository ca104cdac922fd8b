/** @import { Base, Batch, Enrolment, EntryRow, KeyRow, Keys, MetaRows, SyncHead, SyncState, Wrap } from "../types.js" */
import { result } from "./transaction.js";
import { NEVER_SYNCED, metaRow } from "./meta.js";

/** The server takes 4 MiB a request; the rest is room for the head. */
const LARGEST_BATCH = 3.5 * 1024 * 1024;

/**
 * Gather the next request: what the server does not hold yet, from its own contiguous
 * seq on, and what each record here was pulled up to. Does not write.
 * @param {Base} base
 * @param {Keys} keys
 * @param {{now: number, catalogue: number, limit: number, passed: Set<string>}} wish
 *   passed: ids that a faulty server fell over, left out for now
 * @returns {Promise<Batch | null>} null: this tablet is not enrolled
 */
export async function gather(base, keys, { now, catalogue, limit, passed }) {
  const state = await readState(base);
  if (!state.enrolment) return null;
  const open = state.unsent.filter(({ id }) => !state.ruled.has(id) && !passed.has(id));
  const wraps = await wrapsFor(keys, open.slice(0, limit), state.enrolment);
  const rows = withinSize(open.slice(0, limit).filter((row) => wraps.has(keyOf(row))));
  /** @type {SyncHead} */
  const head = {
    v: 1,
    catalogue,
    now: new Date(now).toISOString(),
    logs: Object.entries(state.log.tips).map(([log, tip]) => ({ log, tip })),
    wraps: [...new Set(rows.map(keyOf))].map((key) => /** @type {Wrap} */ (wraps.get(key))),
    entries: rows.map(({ header, sealed }) => ({ header, sealed: sealed.length })),
    open: [...state.records].map((record) => ({
      record,
      since: state.since.of[record] ?? 0,
      tips: undelivered(state.unsent, record),
    })),
    head: state.sync.head,
    pull_all: false,
  };
  return { head, rows, sealed: rows.map((row) => row.sealed), more: rows.length < open.length };
}

/**
 * @param {Base} base
 * @returns {Promise<{
 *   sync: SyncState, log: MetaRows["log"], enrolment: Enrolment | undefined, since: MetaRows["since"],
 *   ruled: Set<IDBValidKey>, records: Set<string>, unsent: EntryRow[]}>}
 */
function readState(base) {
  const stores = ["meta", "entries", "keys", "rulings"];
  return base.transact(stores, "readonly", async (tx) => {
    /** @type {SyncState} */
    const sync = (await metaRow(tx, "sync")) ?? NEVER_SYNCED;
    const log = /** @type {MetaRows["log"]} */ (await metaRow(tx, "log"));
    /** @type {KeyRow[]} */
    const known = await result(tx.objectStore("keys").getAll());
    const asked = (await metaRow(tx, "asked"))?.records ?? [];
    return {
      sync,
      log,
      enrolment: await metaRow(tx, "enrolment"),
      since: (await metaRow(tx, "since")) ?? { of: {} },
      ruled: new Set(await result(tx.objectStore("rulings").getAllKeys())),
      records: new Set([...known.map(({ record }) => record), ...asked]),
      unsent: await unsentRows(tx, log, sync),
    };
  });
}

/**
 * Read, within a transaction, the entries beyond what the server holds of each log.
 * @param {IDBTransaction} tx
 * @param {MetaRows["log"]} log
 * @param {SyncState} sync
 * @returns {Promise<EntryRow[]>}
 */
export async function unsentRows(tx, log, sync) {
  const lists = beyondHeld(log, sync).map((range) => result(tx.objectStore("entries").getAll(range)));
  return (await Promise.all(lists)).flat();
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
 * @param {MetaRows["log"]} log
 * @param {SyncState} sync
 * @returns {IDBKeyRange[]} one for each log
 */
function beyondHeld({ tips }, { held }) {
  return Object.keys(tips).map((log) => IDBKeyRange.bound([log, (held[log] ?? 0) + 1], [log, Infinity]));
}

/**
 * @param {Keys} keys
 * @param {EntryRow[]} rows
 * @param {Enrolment} enrolment
 * @returns {Promise<Map<string, Wrap>>} by key id; a key that nobody can wrap is absent
 */
async function wrapsFor(keys, rows, { server_key }) {
  /** @type {Map<string, Wrap>} */
  const wraps = new Map();
  for (const id of new Set(rows.map(keyOf))) {
    const wrap = (await keys.wrapped(id, server_key))?.wrap_server;
    if (wrap) wraps.set(id, wrap);
  }
  return wraps;
}

/**
 * @param {EntryRow} row
 * @returns {string}
 */
function keyOf({ header }) {
  return header.split("\n")[5];
}

/**
 * @param {EntryRow[]} rows
 * @returns {EntryRow[]} the first of them that fit into one request, at least one
 */
function withinSize(rows) {
  let size = 0;
  return rows.filter(({ header, sealed }, n) => {
    size += header.length + sealed.length;
    return n === 0 || size <= LARGEST_BATCH;
  });
}

/**
 * @param {EntryRow[]} unsent
 * @param {string} record
 * @returns {{log: string, seq: number}[]}
 */
function undelivered(unsent, record) {
  /** @type {Map<string, number>} */
  const tips = new Map();
  for (const row of unsent) if (row.record === record) tips.set(row.log, Math.max(tips.get(row.log) ?? 0, row.seq));
  return [...tips].map(([log, seq]) => ({ log, seq }));
}
