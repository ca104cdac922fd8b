/** @import { Base, EntryRow, MetaRows, OutboxRow, PackRow, PulledRow, Ruling } from "../types.js" */
import { metaRow } from "./meta.js";
import { sealedIn } from "./sealed.js";
import { result } from "./transaction.js";

/**
 * @typedef {object} Rows One record as it lies in the database, sealed; or what of it lies
 *   behind what was read before.
 * @property {EntryRow[]} own not in a pack
 * @property {PackRow[]} packs
 * @property {PulledRow[]} pulled
 * @property {number} last key of the last pulled row
 * @property {OutboxRow[]} outside
 * @property {Set<string>} aside ids of own entries that the server set aside, or erased
 */

/** @typedef {{own: {[log: string]: number}, pulled: number}} Place up to where a record was read: seq of each log, key */

/**
 * Read one record's sealed rows.
 * @param {Base} base
 * @param {string} record
 * @param {Place | null} from null: all of it
 * @returns {Promise<Rows>}
 */
export function readRows(base, record, from) {
  const stores = ["meta", "entries", "packs", "pulled", "outbox", "rulings"];
  return base.transact(stores, "readonly", async (tx) => {
    /** @type {[MetaRows["log"] | undefined, PackRow[], Set<string>]} */
    const [log, packs, sealed] = await Promise.all([metaRow(tx, "log"), from ? [] : packsOf(tx, record), sealedIn(tx)]);
    // Sealed away is not damaged: nothing of it is read here.
    if (sealed.has(record)) return { own: [], packs: [], pulled: [], last: from?.pulled ?? 0, outside: [], aside: new Set() };
    const byRecord = tx.objectStore("entries").index("record");
    const own = Object.keys(log?.tips ?? {}).map((name) => {
      const upto = from?.own[name] ?? Math.max(0, ...packs.filter((pack) => pack.log === name).map((pack) => pack.to));
      return result(byRecord.getAll(IDBKeyRange.bound([record, name, upto + 1], [record, name, Infinity])));
    });
    const [pulled, outside, aside] = [pulledAfter(tx, record, from?.pulled ?? 0), result(tx.objectStore("outbox").getAll()), asideIn(tx)];
    return { own: (await Promise.all(own)).flat().filter(({ erased }) => !erased), packs, ...(await pulled), outside: await outside, aside: await aside };
  });
}

/**
 * @param {IDBTransaction} tx
 * @param {string} record
 * @returns {Promise<PackRow[]>}
 */
function packsOf(tx, record) {
  return result(tx.objectStore("packs").getAll(IDBKeyRange.bound([record], [record, []])));
}

/**
 * @param {IDBTransaction} tx
 * @param {string} record
 * @param {number} after
 * @returns {Promise<{pulled: PulledRow[], last: number}>}
 */
async function pulledAfter(tx, record, after) {
  const store = tx.objectStore("pulled");
  const keys = await result(store.index("record").getAllKeys(record));
  const fresh = /** @type {number[]} */ (keys).filter((key) => key > after);
  // All of them in one request, or the few that are new.
  const rows = fresh.length === keys.length ? result(store.index("record").getAll(record)) : Promise.all(fresh.map((key) => result(store.get(key))));
  return { pulled: await rows, last: fresh.at(-1) ?? after };
}

/**
 * Return, within a transaction, what of this tablet's own entries does not count.
 * @param {IDBTransaction} tx
 * @returns {Promise<Set<string>>} ids of entries that the server set aside, or erased
 */
export async function asideIn(tx) {
  /** @type {Ruling[]} */
  const rulings = await result(tx.objectStore("rulings").getAll());
  return new Set(rulings.filter(({ counts, erased }) => counts === "set_aside" || erased).map(({ id }) => id));
}
