/** @import { Base, EntryRow, KeyRow, NewEntry, OutboxRow, Writer } from "../types.js" */
import { result } from "./transaction.js";
import { clearDraft } from "./drafts.js";
import { decodeHeader } from "./entry.js";
import { metaRow, putMeta } from "./meta.js";
import { StoreProblem } from "./problem.js";
import { uuid7 } from "./uuid.js";

/**
 * Make the log's own row at the first start, and take into the log what an older page
 * left in the outbox; all in one transaction. The write is also the proof that this
 * browser can keep anything at all.
 * @param {Base} base
 * @returns {Promise<void>}
 */
export function readyLog(base) {
  return base.transact(["meta", "entries", "keys", "outbox"], "readwrite", async (tx) => {
    const log = (await metaRow(tx, "log")) ?? { current: uuid7(), tips: {} };
    /** @type {OutboxRow[]} */
    const left = await result(tx.objectStore("outbox").getAll());
    const taken = left.map(splitRow);
    for (const { entry, key } of taken) {
      tx.objectStore("entries").put(entry);
      tx.objectStore("keys").put(key);
      log.tips[entry.log] = Math.max(log.tips[entry.log] ?? 0, entry.seq);
    }
    tx.objectStore("outbox").clear();
    putMeta(tx, "log", log);
  });
}

/**
 * Part an outbox row into the rows that the log knows.
 * @param {OutboxRow} row
 * @returns {{entry: EntryRow, key: KeyRow}}
 */
export function splitRow({ header, sealed, wrap_server, wrap_tablet }) {
  const { id, record, log, seq, key } = decodeHeader(header);
  return {
    entry: { id, record, log, seq, header, sealed },
    key: { key, record, log, wrap_server, wrap_tablet },
  };
}

/**
 * Keep an entry of a page that is older than the database: whole, with its key, in
 * the one store whose shape never changes. A newer page takes it into the log.
 * @param {Writer} writer
 * @param {EntryRow} row
 * @param {KeyRow | null} key
 * @param {NewEntry} given
 * @returns {Promise<void>}
 */
export async function keepOutside({ base, spare }, row, key, given) {
  if (!key?.wrap_server && !key?.wrap_tablet) throw new StoreProblem("failed");
  const { wrap_server, wrap_tablet } = key;
  await base.transact(["outbox", "drafts"], "readwrite", (tx) => {
    tx.objectStore("outbox").add({ header: row.header, sealed: row.sealed, wrap_server, wrap_tablet });
    clearDraft(tx, row.record, given);
  });
  spare.seq = row.seq;
}
