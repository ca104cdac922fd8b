/** @import { Base, EntryRow, KeyRow, MetaRows, Reader, RecordRow } from "../types.js" */
import { result } from "./transaction.js";
import { NEVER_SYNCED, metaRow, putMeta } from "./meta.js";
import { unsentRows } from "./unsent.js";

/**
 * Return every record with entries on this tablet, the latest first.
 * @param {{base: Base, reader: Reader}} shelf
 * @returns {Promise<RecordRow[]>}
 */
export async function listRecords({ base, reader }) {
  const { ids, unsent } = await readIds(base);
  const rows = await Promise.all(
    ids.map(async (record) => {
      const fold = await reader.fold(record);
      const times = fold.order.map((id) => fold.entries[id].time_ms);
      const waiting = unsent.filter((row) => row.record === record).length;
      const span = { first_ms: times[0] ?? 0, last_ms: times.at(-1) ?? 0 };
      return { record, fold, ...span, entries: times.length, unsent: waiting };
    }),
  );
  return rows.filter(({ entries }) => entries).sort((a, b) => b.last_ms - a.last_ms);
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
 * @returns {Promise<{ids: string[], unsent: EntryRow[]}>}
 */
function readIds(base) {
  return base.transact(["meta", "keys", "entries"], "readonly", async (tx) => {
    /** @type {KeyRow[]} */
    const keys = await result(tx.objectStore("keys").getAll());
    const asked = (await metaRow(tx, "asked"))?.records ?? [];
    const log = /** @type {MetaRows["log"]} */ (await metaRow(tx, "log"));
    const unsent = await unsentRows(tx, log, (await metaRow(tx, "sync")) ?? NEVER_SYNCED);
    return { ids: [...new Set([...keys.map(({ record }) => record), ...asked])], unsent };
  });
}
