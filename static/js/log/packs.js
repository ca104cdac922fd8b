/** @import { Base, EntryRow, Keys, Opened, PackRow } from "../types.js" */
import { utf8 } from "./bytes.js";
import { idle } from "./idle.js";
import { packName } from "./opened.js";
import { seal } from "./seal.js";
import { result } from "./transaction.js";

/** Opening costs by the call, not by the byte: a hundred at once are four times faster. */
const SIZE = 100;

/**
 * Seal single entries of this tablet once more, a hundred together, for the next start.
 * Packs are a copy: the entries themselves stay.
 * @param {Base} base
 * @param {Keys} keys
 * @param {string} record
 * @param {Opened[]} singles opened entries that are in no pack yet
 * @returns {Promise<void>}
 */
export async function packUp(base, keys, record, singles) {
  for (const log of new Set(singles.map((entry) => entry.log))) {
    const own = singles.filter((entry) => entry.log === log).sort((a, b) => a.seq - b.seq);
    for (let at = 0; at + SIZE <= own.length; at += SIZE) {
      await idle();
      const pack = await packed(keys, record, log, own.slice(at, at + SIZE));
      await base.transact(["packs", "entries"], "readwrite", (tx) => keptIfWhole(tx, pack), "relaxed");
    }
  }
}

/**
 * A pack stands for every place up to its end: it is kept only while each of its entries
 * still lies in its own with its words, for another page may have moved one while this one
 * waited, or the desk erased it.
 * @param {IDBTransaction} tx
 * @param {PackRow} pack
 */
async function keptIfWhole(tx, pack) {
  const { record, log, from, to } = pack;
  const range = IDBKeyRange.bound([record, log, from], [record, log, to]);
  /** @type {EntryRow[]} */
  const rows = await result(tx.objectStore("entries").index("record").getAll(range));
  if (rows.length === SIZE && !rows.some(({ erased }) => erased)) tx.objectStore("packs").put(pack);
}

/**
 * Drop a record's packs: they are made again from the entries themselves.
 * @param {Base} base
 * @param {string} record
 * @returns {Promise<void>}
 */
export function dropPacks(base, record) {
  return base.transact(["packs"], "readwrite", (tx) => void tx.objectStore("packs").delete(IDBKeyRange.bound([record], [record, []])));
}

/**
 * @param {Keys} keys
 * @param {string} record
 * @param {string} log
 * @param {Opened[]} entries in order
 * @returns {Promise<PackRow>}
 */
async function packed(keys, record, log, entries) {
  const { id, key, fresh } = await keys.sealer(record, log, null);
  if (fresh) throw new RangeError("a log's entries without their key");
  const name = { record, log, from: entries[0].seq, to: entries[SIZE - 1].seq };
  return { ...name, key: id, sealed: await seal(key, packName(name), utf8(JSON.stringify(entries))) };
}
