/** @import { Base, JsonObject, Keys, MetaRows, PhotoRow } from "../types.js" */
import { hex, sha256 } from "./bytes.js";
import { result } from "./transaction.js";
import { underLock } from "./lock.js";
import { metaRow } from "./meta.js";
import { open, seal } from "./seal.js";

/**
 * Keep a photo's original bytes, sealed under the record's key and named by the digest
 * of the sealed bytes. Returns the value for the entry that shows it; adds no entry.
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
    await base.transact(["photos", "keys"], "readwrite", (tx) => {
      if (sealer.fresh) tx.objectStore("keys").add(sealer.fresh);
      tx.objectStore("photos").put(row);
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
 * @param {string} record
 * @param {string} key
 * @returns {string}
 */
function photoName(record, key) {
  return `photo\n${record}\n${key}\n`;
}
