/** @import { Base, Keys, MetaRows, NewEntry } from "../types.js" */
import { fromUtf8, utf8 } from "./bytes.js";
import { result } from "./transaction.js";
import { underLock } from "./lock.js";
import { metaRow } from "./meta.js";
import { open, seal } from "./seal.js";

/** @typedef {{base: Base, keys: Keys, lock: string}} Shelf */

/**
 * Keep a field's unfinished text, over what was kept of it before.
 * @param {Shelf} shelf
 * @param {string} record
 * @param {string} path
 * @param {string} text
 * @returns {Promise<void>}
 */
export async function keepDraft(shelf, record, path, text) {
  await (await sealDraft(shelf, record, path, text))();
}

/**
 * Seal a field's unfinished text; what is returned writes it. The write begins in the
 * task in which it is called, and its commit is asked for there: it outlives the page.
 * @param {Shelf} shelf
 * @param {string} record
 * @param {string} path
 * @param {string} text
 * @param {() => boolean} [stands] false: an entry took its place meanwhile, write nothing
 * @returns {Promise<() => Promise<void>>}
 */
export async function sealDraft(shelf, record, path, text, stands = () => true) {
  const { id, key } = shelf.keys.ready(record) ?? (await sealerOf(shelf, record));
  const row = { record, path, key: id, sealed: await seal(key, draftName(record, path), utf8(text)) };
  return () =>
    shelf.base.transact(["drafts"], "readwrite", (tx) => {
      if (stands()) tx.objectStore("drafts").put(row);
      tx.commit();
    });
}

/**
 * @param {Shelf} shelf
 * @param {string} record
 * @returns {Promise<{id: string, key: CryptoKey}>} the record's key, kept if it was made here
 */
function sealerOf({ base, keys, lock }, record) {
  return underLock(lock, async () => {
    const { log, enrolment } = await base.transact(["meta"], "readonly", async (tx) => ({
      log: /** @type {MetaRows["log"]} */ (await metaRow(tx, "log")),
      enrolment: await metaRow(tx, "enrolment"),
    }));
    const { id, key, fresh } = await keys.sealer(record, log.current, enrolment?.server_key ?? null);
    if (fresh) await base.transact(["keys"], "readwrite", (tx) => void tx.objectStore("keys").add(fresh));
    return { id, key };
  });
}

/**
 * Return a record's unfinished texts by path. One that does not open is left out.
 * @param {{base: Base, keys: Keys}} shelf
 * @param {string} record
 * @returns {Promise<{[path: string]: string}>}
 */
export async function readDrafts({ base, keys }, record) {
  /** @type {{path: string, key: string, sealed: Uint8Array}[]} */
  const rows = await base.transact(["drafts"], "readonly", (tx) =>
    result(tx.objectStore("drafts").getAll(IDBKeyRange.bound([record], [record, []]))),
  );
  // Whoever reads drafts is about to write some.
  await keys.warm(record);
  const texts = await Promise.all(
    rows.map(async ({ path, key, sealed }) => {
      const opener = await keys.opener(key);
      return opener && [path, fromUtf8(await open(opener, draftName(record, path), sealed))];
    }).map((text) => text.catch(() => null)),
  );
  return Object.fromEntries(texts.filter((text) => text !== null));
}

/**
 * Drop a field's unfinished text.
 * @param {{base: Base}} shelf
 * @param {string} record
 * @param {string} path
 * @returns {Promise<void>}
 */
export function dropDraft({ base }, record, path) {
  return base.transact(["drafts"], "readwrite", (tx) => void tx.objectStore("drafts").delete([record, path]));
}

/**
 * Drop, within a transaction, the unfinished text that an entry replaces.
 * @param {IDBTransaction} tx
 * @param {string} record
 * @param {NewEntry} given
 */
export function clearDraft(tx, record, { path, clears }) {
  if (clears) tx.objectStore("drafts").delete([record, clears === true ? path : clears]);
}

/**
 * @param {string} record
 * @param {string} path
 * @returns {string}
 */
function draftName(record, path) {
  return `draft\n${record}\n${path}\n`;
}
