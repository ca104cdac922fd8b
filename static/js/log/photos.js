/** @import { Base, Json, JsonObject, Keys, MetaRows, PhotoRow } from "../types.js" */
import { hex, sha256 } from "./bytes.js";
import { result } from "./transaction.js";
import { underLock } from "./lock.js";
import { metaRow, putMeta } from "./meta.js";
import { open, seal } from "./seal.js";

/**
 * Keep a photo's original bytes, sealed under the record's key and named by the digest
 * of the sealed bytes. Returns the value for the entry that names it; adds no entry, and
 * until one names it the photo is loose: it is not sent.
 * @param {{base: Base, keys: Keys, lock: string}} shelf
 * @param {string} record
 * @param {Blob} blob
 * @param {string} caption
 * @returns {Promise<JsonObject>}
 */
export function keepPhoto({ base, keys, lock }, record, blob, caption) {
  return underLock(lock, async () => {
    const { log, enrolment } = await base.transact(["meta"], "readonly", async (tx) => ({
      log: /** @type {MetaRows["log"]} */ (await metaRow(tx, "log")),
      enrolment: await metaRow(tx, "enrolment"),
    }));
    const plain = new Uint8Array(await blob.arrayBuffer());
    const sealer = await keys.sealer(record, log.current, enrolment?.server_key ?? null);
    const bytes = await seal(sealer.key, photoName(record, sealer.id), plain);
    const sealed = hex(await sha256(bytes));
    /** @type {PhotoRow} */
    const row = { sealed, record, key: sealer.id, type: blob.type, bytes, waiting: 1 };
    await base.transact(["meta", "photos", "keys"], "readwrite", async (tx) => {
      if (sealer.fresh) tx.objectStore("keys").add(sealer.fresh);
      tx.objectStore("photos").put(row);
      const photos = await photosRow(tx);
      putMeta(tx, "photos", { ...photos, loose: { ...photos.loose, [sealed]: 1 } });
    });
    return { sha256: hex(await sha256(plain)), sealed, type: blob.type, size: plain.length, caption };
  });
}

/**
 * Return a photo's original bytes.
 * @param {{base: Base, keys: Keys}} shelf
 * @param {{sealed: string}} value
 * @returns {Promise<Blob | null>} null: not on this tablet, or not readable here
 */
export async function readPhoto({ base, keys }, { sealed }) {
  /** @type {PhotoRow | undefined} */
  const row = await base.transact(["photos"], "readonly", (tx) => result(tx.objectStore("photos").get(sealed)));
  const key = row && (await keys.opener(row.key));
  return key ? new Blob([await open(key, photoName(row.record, row.key), row.bytes)], { type: row.type }) : null;
}

/**
 * Let go of a photo that no entry names: its row was given up, or another was taken
 * instead. One that is named stays.
 * @param {{base: Base}} shelf
 * @param {{sealed: string}} value
 * @returns {Promise<void>}
 */
export function forgetPhoto({ base }, { sealed }) {
  return base.transact(["meta", "photos"], "readwrite", async (tx) => {
    if (!(await photosRow(tx)).loose[sealed]) return;
    await forgetNoted(tx, [sealed]);
    tx.objectStore("photos").delete(sealed);
  });
}

/**
 * Note, within the transaction that keeps an entry, that it names these photos.
 * @param {IDBTransaction} tx over `meta`
 * @param {string[]} names
 * @returns {Promise<void>}
 */
export async function nameLoose(tx, names) {
  const photos = await photosRow(tx);
  putMeta(tx, "photos", { ...photos, loose: without(photos.loose, new Set(names)) });
}

/**
 * Let go, within a transaction, of photos of a record, and of what is noted of them. One of
 * another record stays: an entry that names it has no say over it.
 * @param {IDBTransaction} tx over `meta` and `photos`
 * @param {string} record
 * @param {string[]} names
 * @returns {Promise<void>}
 */
export async function dropPhotos(tx, record, names) {
  const store = tx.objectStore("photos");
  /** @type {(PhotoRow | undefined)[]} */
  const rows = await Promise.all(names.map((sealed) => result(store.get(sealed))));
  const gone = rows.flatMap((row) => (row?.record === record ? [row.sealed] : []));
  for (const sealed of gone) store.delete(sealed);
  if (gone.length) await forgetNoted(tx, gone);
}

/**
 * Forget, within a transaction, what is noted of photos that are not here any more.
 * @param {IDBTransaction} tx over `meta`
 * @param {string[]} names
 * @returns {Promise<void>}
 */
export async function forgetNoted(tx, names) {
  const { loose, refused, most } = await photosRow(tx);
  const gone = new Set(names);
  putMeta(tx, "photos", { loose: without(loose, gone), refused: without(refused, gone), most });
}

/** @template T @param {{[name: string]: T}} of @param {Set<string>} gone @returns {{[name: string]: T}} */
function without(of, gone) {
  return Object.fromEntries(Object.entries(of).filter(([name]) => !gone.has(name)));
}

/**
 * Return the name of every photo in a value, whatever field it is of.
 * @param {Json} value
 * @returns {string[]}
 */
export function photosIn(value) {
  if (value === null || typeof value !== "object") return [];
  if (Array.isArray(value)) return value.flatMap(photosIn);
  const { sealed, sha256: plain } = value;
  if (typeof sealed === "string" && typeof plain === "string") return [sealed];
  return Object.values(value).flatMap(photosIn);
}

/**
 * Read what is known of this tablet's photos, within a transaction.
 * @param {IDBTransaction} tx
 * @returns {Promise<MetaRows["photos"]>}
 */
export async function photosRow(tx) {
  return (await metaRow(tx, "photos")) ?? { loose: {}, refused: {}, most: null };
}

/**
 * @param {string} record
 * @param {string} key
 * @returns {string}
 */
function photoName(record, key) {
  return `photo\n${record}\n${key}\n`;
}
