/** @import { Base, EntryRow, KeyRow, Keys, MetaRows, OutboxRow, Reader, RecordRow, Ruling } from "../types.js" */
import { decodeHeader } from "./entry.js";
import { shutIn } from "./by-code.js";
import { result } from "./transaction.js";
import { NEVER_SYNCED, metaRow, putMeta } from "./meta.js";
import { sealedIn } from "./sealed.js";
import { unsentRows } from "./unsent.js";
import { madeMs } from "./uuid.js";

/**
 * Return every record with entries that can be read on this tablet, the latest first.
 * @param {{base: Base, keys: Keys, reader: Reader}} shelf
 * @returns {Promise<RecordRow[]>}
 */
export async function listRecords({ base, keys, reader }) {
  const { ids: known, unsent, notTaken, written, shut } = await readIds(base);
  const ids = known.filter(keys.isHere);
  const rows = await Promise.all(
    ids.map(async (record) => {
      const fold = await reader.fold(record);
      const times = fold.order.map((id) => fold.entries[id].time_ms);
      const isOf = (/** @type {EntryRow} */ row) => row.record === record;
      const waiting = { unsent: unsent.filter(isOf).length, notTaken: notTaken.filter(isOf).length };
      const span = { first_ms: times[0] ?? 0, last_ms: times.at(-1) ?? 0 };
      return { record, fold, ...span, entries: times.length, ...waiting };
    }),
  );
  // A case of which nothing counts at the server is still one that somebody told here.
  const isTold = (/** @type {string} */ record) => written.has(record) && (keys.isByCode || !shut.has(record));
  return rows.filter(({ record, entries }) => entries || isTold(record)).sort((a, b) => b.last_ms - a.last_ms);
}

/**
 * Ask the server for a record that this tablet does not hold, from the next round on.
 * @param {{base: Base}} shelf
 * @param {string} record
 * @returns {Promise<void>}
 */
export function askFor({ base }, record) {
  return base.transact(["meta"], "readwrite", async (tx) => {
    const records = (await metaRow(tx, "asked"))?.records ?? [];
    putMeta(tx, "asked", { records: [...new Set([...records, record])] });
  });
}

/**
 * @param {Base} base
 * @returns {Promise<{ids: string[], unsent: EntryRow[], notTaken: EntryRow[], written: Set<string>, shut: Set<string>}>}
 */
function readIds(base) {
  return base.transact(["meta", "keys", "entries", "rulings"], "readonly", async (tx) => {
    /** @type {KeyRow[]} */
    const keys = await result(tx.objectStore("keys").getAll());
    const asked = (await metaRow(tx, "asked"))?.records ?? [];
    const log = /** @type {MetaRows["log"]} */ (await metaRow(tx, "log"));
    const unsent = await unsentRows(tx, log, (await metaRow(tx, "sync")) ?? NEVER_SYNCED);
    const sealed = await sealedIn(tx);
    const ids = [...new Set([...keys.map(({ record }) => record), ...asked])].filter((record) => !sealed.has(record));
    const own = await Promise.all(ids.map((record) => countOwn(tx, record)));
    // What lies behind a refused entry may be on the server all the same.
    /** @type {Ruling[]} */
    const rulings = await result(tx.objectStore("rulings").getAll());
    const ruled = new Map(rulings.map(({ id, answer }) => [id, answer]));
    const isNotTaken = (/** @type {EntryRow} */ { id }) => ["refused", "conflict"].includes(ruled.get(id) ?? "");
    return { ids, unsent: unsent.filter(({ id }) => !ruled.has(id)), notTaken: unsent.filter(isNotTaken), written: new Set(ids.filter((_, n) => own[n])), shut: await shutIn(tx) };
  });
}

/**
 * Return the record that was written in last on this tablet, and when by its clock then,
 * without opening anything: an id begins with its time.
 * @param {{base: Base, keys: Keys}} shelf
 * @returns {Promise<{record: string, ms: number} | null>}
 */
export function latestWritten({ base, keys }) {
  return base.transact(["meta", "entries"], "readonly", async (tx) => {
    const sealed = await sealedIn(tx);
    const request = tx.objectStore("entries").index("id").openCursor(null, "prev");
    let cursor = await result(request);
    const isHere = (/** @type {string} */ record) => keys.isHere(record) && !sealed.has(record);
    while (cursor && !isHere(cursor.value.record)) {
      cursor.continue();
      cursor = await result(request);
    }
    return cursor && { record: cursor.value.record, ms: madeMs(cursor.value.id) };
  });
}

/**
 * Tell whether this tablet holds anything of a record that can be read here, counted or not.
 * @param {{base: Base, keys: Keys}} shelf
 * @param {string} record
 * @returns {Promise<boolean>}
 */
export async function holdsAny({ base, keys }, record) {
  if (!keys.isHere(record)) return false;
  return base.transact(["meta", "entries", "pulled", "outbox"], "readonly", async (tx) => {
    if ((await sealedIn(tx)).has(record)) return false;
    const pulled = await result(tx.objectStore("pulled").index("record").count(record));
    /** @type {OutboxRow[]} */
    const outside = await result(tx.objectStore("outbox").getAll());
    const isOutside = outside.some(({ header }) => decodeHeader(header).record === record);
    return pulled > 0 || isOutside || (await countOwn(tx, record)) > 0;
  });
}

/**
 * @param {IDBTransaction} tx
 * @param {string} record
 * @returns {Promise<number>}
 */
function countOwn(tx, record) {
  return result(tx.objectStore("entries").index("record").count(IDBKeyRange.bound([record], [record, []])));
}
