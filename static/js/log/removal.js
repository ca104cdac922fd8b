/** @import { KeyRow, MetaRows } from "../types.js" */
import { metaRow, putMeta } from "./meta.js";
import { forgetNoted } from "./photos.js";
import { dropSnapshotIn } from "./snapshots.js";
import { result } from "./transaction.js";

/** What a record lies in. */
export const STORES = ["meta", "entries", "pulled", "packs", "keys", "drafts", "photos", "outbox", "rulings"];

/**
 * Take away, within a transaction, what a record can be read by on this tablet, and every
 * copy of it. Its sealed bytes stay, and can be sent.
 * @param {IDBTransaction} tx
 * @param {string} record
 */
export async function sealAway(tx, record) {
  /** @type {KeyRow[]} */
  const keys = await result(tx.objectStore("keys").index("record").getAll(all(record)));
  for (const row of keys) tx.objectStore("keys").put({ ...row, wrap_tablet: null });
  dropSnapshotIn(tx, record);
  tx.objectStore("packs").delete(all(record));
  await dropAsked(tx, record);
}

/**
 * Take away, within a transaction, all of a record: entries, what others wrote, photos,
 * unfinished text, copies and keys. Logs keep their places.
 * @param {IDBTransaction} tx
 * @param {string} record
 */
export async function removeAll(tx, record) {
  const entries = tx.objectStore("entries");
  for (const { id, log, seq } of await result(entries.index("record").getAll(all(record)))) {
    entries.delete([log, seq]);
    tx.objectStore("rulings").delete(id);
  }
  await deleteEach(tx.objectStore("pulled").index("record").openCursor(record));
  await deleteEach(tx.objectStore("keys").index("record").openCursor(all(record)));
  const pictures = await deleteEach(tx.objectStore("photos").openCursor(), record);
  if (pictures.length) await forgetNoted(tx, pictures.map(String));
  for (const name of ["packs", "drafts"]) tx.objectStore(name).delete(all(record));
  dropSnapshotIn(tx, record);
  await dropAsked(tx, record);
  const [since, limits, erasing, log] = await Promise.all([metaRow(tx, "since"), metaRow(tx, "limits"), metaRow(tx, "erasing"), metaRow(tx, "log")]);
  // Asked for again, it is given from its start.
  if (since) putMeta(tx, "since", { of: without(since.of, record) });
  if (limits) putMeta(tx, "limits", { ...limits, of: without(limits.of, record) });
  if (erasing) putMeta(tx, "erasing", { of: without(erasing.of, record) });
  // Fewer entries than the tips say: they are counted anew.
  if (log) putMeta(tx, "log", { ...log, moves: (log.moves ?? 0) + 1 });
}

/**
 * @param {IDBRequest<IDBCursorWithValue | null>} request
 * @param {string} [record] leave others' rows
 * @returns {Promise<IDBValidKey[]>} keys of what was deleted
 */
function deleteEach(request, record) {
  /** @type {IDBValidKey[]} */
  const gone = [];
  return new Promise((resolve, reject) => {
    request.onerror = () => reject(request.error);
    request.onsuccess = () => {
      const cursor = request.result;
      if (!cursor) return resolve(gone);
      if (record === undefined || cursor.value.record === record) {
        gone.push(cursor.primaryKey);
        cursor.delete();
      }
      cursor.continue();
    };
  });
}

/** @param {IDBTransaction} tx @param {string} record not pulled again unless somebody asks again */
async function dropAsked(tx, record) {
  /** @type {MetaRows["asked"] | undefined} */
  const asked = await metaRow(tx, "asked");
  if (asked) putMeta(tx, "asked", { records: asked.records.filter((one) => one !== record) });
}

/** @template T @param {{[name: string]: T}} of @param {string} name @returns {{[name: string]: T}} */
function without(of, name) {
  return Object.fromEntries(Object.entries(of).filter(([one]) => one !== name));
}

/** @param {string} record every key that begins with it */
function all(record) {
  return IDBKeyRange.bound([record], [record, []]);
}
