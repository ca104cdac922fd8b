/** @import { EntryRow, KeyRow, MetaRows, OutboxRow, PhotoRow, Ruling, SyncState } from "../types.js" */
import { decodeHeader } from "./entry.js";
import { photosRow } from "./photos.js";
import { result } from "./transaction.js";
import { unsentRows } from "./unsent.js";

/**
 * @typedef {object} OnlyHere
 * @property {Set<string>} records of which something is not on the server: entries, photos, unfinished text
 * @property {Set<string>} aside records with an own entry that the server has, and that does not count
 * @property {Set<string>} unsealable those of them that must stay readable, for what is only here is not
 *   wrapped for the server or is sent by nothing but a tap
 */

/** @typedef {{record: string, path: string, key: string}} DraftRow */

/** Who stood at the tablet in a case, and the name being typed there: neither is ever sent. */
const WHO = ["who", "who#typing"];

/**
 * Find, within a transaction, the records of which this tablet holds anything alone.
 * @param {IDBTransaction} tx over meta, entries, rulings, outbox, photos, drafts, keys
 * @param {MetaRows["log"]} log
 * @param {SyncState} sync
 * @returns {Promise<OnlyHere>}
 */
export async function onlyHere(tx, log, sync) {
  const store = (/** @type {string} */ name) => tx.objectStore(name);
  /** @type {[EntryRow[], Ruling[], OutboxRow[], PhotoRow[], DraftRow[], KeyRow[], MetaRows["photos"]]} */
  const [beyond, rulings, outbox, photos, drafts, keys, known] = await Promise.all([
    unsentRows(tx, log, sync), result(store("rulings").getAll()), result(store("outbox").getAll()),
    result(store("photos").index("waiting").getAll()), result(store("drafts").getAll()), result(store("keys").getAll()), photosRow(tx),
  ]);
  const had = new Set(rulings.filter(({ answer }) => answer === "kept" || answer === "had").map(({ id }) => id));
  /** @type {(EntryRow | undefined)[]} */
  const ruled = await Promise.all(rulings.map(({ id }) => result(store("entries").index("id").get(id))));
  const recordsOf = (/** @type {(ruling: Ruling) => boolean} */ which) => ruled.flatMap((row, n) => (row && which(rulings[n]) ? [row.record] : []));
  const declined = recordsOf(({ answer }) => answer === "refused" || answer === "conflict");
  const unsent = [...beyond.filter(({ id }) => !had.has(id)).map(({ record }) => record), ...declined];
  // Of a case begun without unlocking: nobody opens it any more, and no server gets it.
  const gone = new Set(keys.filter(({ wrap_tablet }) => !wrap_tablet).map(({ key }) => key));
  const isSent = (/** @type {PhotoRow} */ { sealed, key }) => !known.loose[sealed] || !gone.has(key);
  const pictures = [...photos.filter(isSent), ...Object.values(known.refused)].map(({ record }) => record);
  const texts = drafts.filter(({ path, key }) => !WHO.includes(path) && !gone.has(key)).map(({ record }) => record);
  const fixed = [...outbox.map(({ header }) => decodeHeader(header).record), ...texts];
  const unwrapped = keys.filter(({ wrap_server }) => !wrap_server).map(({ record }) => record);
  const aside = recordsOf(({ counts }) => counts === "set_aside");
  return { records: new Set([...unsent, ...pictures, ...fixed]), aside: new Set(aside), unsealable: new Set([...fixed, ...unwrapped]) };
}
