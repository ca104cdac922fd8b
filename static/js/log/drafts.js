/** @import { Base, Keys, MetaRows, NewEntry } from "../types.js" */
import { fromUtf8, utf8 } from "./bytes.js";
import { result } from "./transaction.js";
import { underLock } from "./lock.js";
import { metaRow } from "./meta.js";
import { open, seal } from "./seal.js";

/**
 * Keep a field's unfinished text, over what was kept of it before.
 * @param {{base: Base, keys: Keys, lock: string}} shelf
 * @param {string} record
 * @param {string} path
 * @param {string} text
 * @returns {Promise<void>}
 */
export function keepDraft({ base, keys, lock }, record, path, text) {
  // Under the log's lock, since the record's key may be made here.
  return underLock(lock, async () => {
    const { log, enrolment } = await base.transact(["meta"], "readonly", async (tx) => ({
      log: /** @type {MetaRows["log"]} */ (await metaRow(tx, "log")),
      enrolment: await metaRow(tx, "enrolment"),
    }));
    const sealer = await keys.sealer(record, log.current, enrolment?.server_key ?? null);
    const sealed = await seal(sealer.key, draftName(record, path), utf8(text));
    await base.transact(["drafts", "keys"], "readwrite", (tx) => {
      if (sealer.fresh) tx.objectStore("keys").add(sealer.fresh);
      tx.objectStore("drafts").put({ record, path, key: sealer.id, sealed });
    });
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
