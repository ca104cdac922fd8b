/** @import { Base, EntryRow, MetaRows, OutboxRow, Reader, Ruling } from "../types.js" */
import { decodeHeader } from "./entry.js";
import { NEVER_SYNCED, metaRow } from "./meta.js";
import { result } from "./transaction.js";
import { unsentRows } from "./unsent.js";

/**
 * @typedef {object} Whereabouts Where the entries of one record are.
 * @property {number} total that this tablet holds, its own and what it was given
 * @property {number} unsent own ones of which the server has said nothing
 * @property {number} notTaken refused, or another entry stands in their place
 */

/**
 * Tell where the entries of one record are. Does not write.
 * @param {{base: Base, reader: Reader}} shelf
 * @param {string} record
 * @returns {Promise<Whereabouts>}
 */
export async function whereIs({ base, reader }, record) {
  const { own, outside, waiting, ruled } = await readOwn(base, record);
  const given = [...(await reader.known(record)).keys()];
  const answers = waiting.map(({ id }) => ruled.get(id));
  const total = new Set([...own.map(({ id }) => id), ...given]).size + outside;
  const unsent = answers.filter((answer) => answer === undefined).length + outside;
  return { total, unsent, notTaken: answers.filter((answer) => answer === "refused" || answer === "conflict").length };
}

/**
 * @param {Base} base
 * @param {string} record
 * @returns {Promise<{own: EntryRow[], outside: number, waiting: EntryRow[], ruled: Map<string, Ruling["answer"]>}>}
 */
function readOwn(base, record) {
  return base.transact(["meta", "entries", "rulings", "outbox"], "readonly", async (tx) => {
    const log = /** @type {MetaRows["log"]} */ (await metaRow(tx, "log"));
    const sync = (await metaRow(tx, "sync")) ?? NEVER_SYNCED;
    const byRecord = tx.objectStore("entries").index("record");
    /** @type {OutboxRow[]} */
    const left = await result(tx.objectStore("outbox").getAll());
    /** @type {Ruling[]} */
    const rulings = await result(tx.objectStore("rulings").getAll());
    return {
      own: await result(byRecord.getAll(IDBKeyRange.bound([record], [record, []]))),
      outside: left.filter(({ header }) => decodeHeader(header).record === record).length,
      waiting: (await unsentRows(tx, log, sync)).filter((row) => row.record === record),
      ruled: new Map(rulings.map(({ id, answer }) => [id, answer])),
    };
  });
}
