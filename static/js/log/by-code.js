/** @import { Base, KeyRow } from "../types.js" */
/** @import { ByCode } from "../types-lock.js" */
import { wrapForTablet } from "./seal.js";
import { sealedIn } from "./sealed.js";
import { result } from "./transaction.js";
import { madeMs } from "./uuid.js";

/**
 * Put keys of cases that were begun without unlocking under the tablet's own key: somebody
 * unlocked it while they were in memory still.
 * @param {Base} base
 * @param {CryptoKey} dataKey
 * @param {ByCode} byCode
 * @returns {Promise<void>}
 */
export async function takeOver(base, dataKey, { toAdopt, adopted }) {
  const keys = await toAdopt();
  if (!keys.length || base.older) return;
  const wraps = new Map(await Promise.all(keys.map(async ({ id, raw }) => /** @type {const} */ ([id, await wrapForTablet(dataKey, id, raw)]))));
  /** @type {string[]} */
  const done = await base.transact(["meta", "keys"], "readwrite", async (tx) => {
    const [store, sealed] = [tx.objectStore("keys"), await sealedIn(tx)];
    /** @type {(KeyRow | undefined)[]} */
    const rows = await Promise.all([...wraps.keys()].map((id) => result(store.get(id))));
    // What was taken off the tablet when its time was over stays off it.
    const here = rows.filter((row) => row !== undefined).filter(({ record }) => !sealed.has(record));
    for (const row of here) store.put({ ...row, wrap_tablet: wraps.get(row.key), by_code: false });
    return here.map(({ key }) => key);
  });
  await adopted(done);
}

/**
 * Read which records were begun without unlocking and are not over, and cannot be read here:
 * the tablet's browser ended meanwhile.
 * @param {Base} base
 * @returns {Promise<{record: string, last_ms: number}[]>} last_ms: when it was written in last, by this tablet's clock then
 */
export function begunByCode(base) {
  return base.transact(["meta", "keys", "entries"], "readonly", async (tx) => {
    const sealed = await sealedIn(tx);
    /** @type {KeyRow[]} */
    const rows = await result(tx.objectStore("keys").getAll());
    const records = [...new Set(rows.filter((row) => row.by_code && !row.wrap_tablet).map(({ record }) => record))];
    const ids = await Promise.all(records.map((record) => lastOf(tx, record)));
    return records.map((record, n) => ({ record, last_ms: ids[n] })).filter(({ record }) => !sealed.has(record));
  });
}

/**
 * Of a case that is over no lock page tells any more.
 * @param {Base} base
 * @param {string[]} records
 * @returns {Promise<void>}
 */
export function endByCode(base, records) {
  return base.transact(["keys"], "readwrite", async (tx) => {
    const store = tx.objectStore("keys");
    for (const record of records) {
      /** @type {KeyRow[]} */
      const rows = await result(store.index("record").getAll(allOf(record)));
      for (const row of rows) if (row.by_code) store.put({ ...row, by_code: false });
    }
  });
}

/**
 * Find, within a transaction, the records of which something cannot be read here for want of
 * a key, but those that were sealed away when their time was over.
 * @param {IDBTransaction} tx over meta and keys
 * @returns {Promise<Set<string>>}
 */
export async function shutIn(tx) {
  const sealed = await sealedIn(tx);
  /** @type {KeyRow[]} */
  const rows = await result(tx.objectStore("keys").getAll());
  return new Set(rows.filter((row) => !row.wrap_tablet && !sealed.has(row.record)).map(({ record }) => record));
}

/** @param {IDBTransaction} tx @param {string} record @returns {Promise<number>} its latest entry's id begins with its time */
async function lastOf(tx, record) {
  /** @type {import("../types.js").EntryRow[]} */
  const rows = await result(tx.objectStore("entries").index("record").getAll(allOf(record)));
  return Math.max(madeMs(record), ...rows.map(({ id }) => madeMs(id)));
}

/** @param {string} record every key that begins with it */
function allOf(record) {
  return IDBKeyRange.bound([record], [record, []]);
}
