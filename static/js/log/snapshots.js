/** @import { Base, Keys } from "../types.js" */
/** @import { Held, Pictured, SnapshotRow } from "../types-fold.js" */
/** @import { Place } from "./rows.js" */
import { fromUtf8, utf8 } from "./bytes.js";
import { FOLD_VERSION, foldingInOrder } from "./fold.js";
import { open, seal } from "./seal.js";
import { entriesOf, pictured } from "./snapshot.js";
import { result } from "./transaction.js";

/** Raised with every change of what a snapshot holds, or how. */
const VERSION = 1;

/**
 * Fill what is held of a record from its snapshot, up to where that goes. A snapshot is a
 * copy: where it is of another version, does not open or does not fit what lies beside
 * it, nothing is filled and it is dropped.
 * @param {Base} base
 * @param {Keys} keys
 * @param {string} record
 * @param {number} catalogue version of the fields
 * @param {Held} held
 * @returns {Promise<boolean>} false: there is none
 */
export async function readSnapshot(base, keys, record, catalogue, held) {
  /** @type {SnapshotRow | undefined} */
  const row = await base.transact(["meta"], "readonly", (tx) => result(tx.objectStore("meta").get(nameOf(record))));
  if (!row) return false;
  const { about } = row;
  const isFit = about.version === VERSION && about.fold === FOLD_VERSION && about.catalogue === catalogue;
  // Counting takes the disk its time; meanwhile it is opened.
  const counting = base.transact(["entries", "pulled"], "readonly", (tx) => countUpTo(tx, record, about.upto));
  const [counts, opening] = await Promise.all([counting, isFit ? opened(keys, row).catch(() => null) : null]);
  const made = JSON.stringify(counts) === JSON.stringify(about.counts) ? opening : null;
  if (made) Object.assign(held, made, { upto: { ...about.upto, own: { ...about.upto.own } } });
  else await dropSnapshot(base, record).catch(() => {});
  return made !== null;
}

/**
 * Keep a snapshot of a record as it was read and folded.
 * @param {Base} base
 * @param {Keys} keys
 * @param {string} record
 * @param {number} catalogue
 * @param {Held} held
 * @returns {Promise<boolean>} false: there is no key for it
 */
export async function keepSnapshot(base, keys, record, catalogue, { folding, own, pulled, aside, upto }) {
  if (!folding) return false;
  // All of it in one breath: what is held changes as soon as this waits for anything.
  const none = [...pulled].filter(([, entry]) => entry === null).map(([id]) => id);
  const left = { aside: [...own.keys()].filter((id) => aside.has(id)), none };
  const text = utf8(JSON.stringify(pictured(folding, (id) => Boolean(pulled.get(id)), left)));
  const place = { own: { ...upto.own }, pulled: upto.pulled };
  await keys.warm(record);
  const key = keys.ready(record);
  if (!key) return false;
  const counts = await base.transact(["entries", "pulled"], "readonly", (tx) => countUpTo(tx, record, place));
  const about = { record, version: VERSION, fold: FOLD_VERSION, catalogue, upto: place, counts };
  const sealed = await seal(key.key, sealName(about), text);
  const row = { name: nameOf(record), about, key: key.id, sealed };
  await base.transact(["meta"], "readwrite", (tx) => void tx.objectStore("meta").put(row), "relaxed");
  return true;
}

/**
 * Drop a record's snapshot. Whatever removes entries from this tablet drops it as well.
 * @param {Base} base
 * @param {string} record
 * @returns {Promise<void>}
 */
export function dropSnapshot(base, record) {
  return base.transact(["meta"], "readwrite", (tx) => dropSnapshotIn(tx, record));
}

/**
 * Drop it within a transaction.
 * @param {IDBTransaction} tx
 * @param {string} record
 */
export function dropSnapshotIn(tx, record) {
  tx.objectStore("meta").delete(nameOf(record));
}

/**
 * @param {Keys} keys
 * @param {SnapshotRow} row
 * @returns {Promise<Partial<Held> | null>}
 */
async function opened(keys, { about, key, sealed }) {
  const opener = await keys.opener(key);
  return opener && heldOf(JSON.parse(fromUtf8(await open(opener, sealName(about), sealed))));
}

/**
 * @param {Pictured} picture
 * @returns {Partial<Held>}
 */
function heldOf(picture) {
  const told = entriesOf(picture);
  const of = (/** @type {boolean} */ pulled) => told.filter(({ isPulled }) => isPulled === pulled);
  const [own, others] = [of(false), of(true)].map((some) => some.map(({ entry }) => /** @type {const} */ ([entry.id, entry])));
  const none = picture.none.map((id) => /** @type {const} */ ([id, null]));
  const isSeen = { isRead: true, isPartial: true, hasSnapshot: true };
  return { own: new Map(own), pulled: new Map([...others, ...none]), aside: new Set(picture.aside), folding: foldingInOrder(told), ...isSeen };
}

/**
 * Count what lies there up to a place: an entry that went or moved shows in it.
 * @param {IDBTransaction} tx
 * @param {string} record
 * @param {Place} upto
 */
async function countUpTo(tx, record, { own, pulled }) {
  const entries = tx.objectStore("entries").index("record");
  const logs = Object.entries(own).sort().map(([log, seq]) => result(entries.count(IDBKeyRange.bound([record, log, 0], [record, log, seq]))));
  const keys = result(tx.objectStore("pulled").index("record").getAllKeys(record));
  const others = /** @type {number[]} */ (await keys).filter((key) => key <= pulled).length;
  return [...(await Promise.all(logs)), others];
}

/** @param {string} record */
function nameOf(record) {
  return ["snapshot", record];
}

/** @param {SnapshotRow["about"]} about all of it is sealed in: none of it can be changed unseen */
function sealName(about) {
  return `snapshot\n${JSON.stringify(about)}\n`;
}
