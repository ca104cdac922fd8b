/** @import { Base, Keys, MetaRows, PulledEntry, Reader, Ruling } from "../types.js" */
/** @import { Ruled, Sorted, SyncReply } from "../types-sync.js" */
import { utf8 } from "./bytes.js";
import { result } from "./transaction.js";
import { decodeHeader } from "./entry.js";
import { metaRow } from "./meta.js";
import { pulledName } from "./opened.js";
import { seal } from "./seal.js";

/** Pulled entries lie in packs: opening costs by the call. */
const PACK = 100;

/**
 * Part what the server gave: rulings on this tablet's own entries, and entries of
 * others, sealed again under this tablet's key. Does not write.
 * @param {{base: Base, keys: Keys, reader: Reader}} shelf
 * @param {SyncReply} reply
 * @returns {Promise<Sorted>}
 */
export async function sortPulled({ base, keys, reader }, reply) {
  /** @type {Sorted} */
  const sorted = { rows: [], keys: [], own: [], changed: [] };
  // Nothing can be sealed: what a server gave all the same is given again to the unlocked tablet.
  if (keys.isLocked) return sorted;
  const { current, ruled, mine } = await standing(base, reply);
  for (const { record, entries } of reply.pull) {
    const known = await reader.known(record);
    const own = entries.filter((entry) => mine.has(entry.header)).map(asRuled);
    // An entry may come again with another ruling, or without its body: the newest word stands.
    const fresh = entries.filter((entry) => !mine.has(entry.header) && known.get(idOf(entry)) !== isReadable(entry));
    sorted.own.push(...own);
    if (fresh.length || own.some(({ ruling }) => isNoteworthy(ruling) || ruled.has(ruling.id))) sorted.changed.push(record);
    if (fresh.length) await sealPacks(keys, record, current, reply, fresh, sorted);
  }
  return sorted;
}

/**
 * Tell whether a ruling says more than "kept and counted".
 * @param {Ruling} ruling
 * @returns {boolean}
 */
export function isNoteworthy({ answer, counts, erased }) {
  return answer === "refused" || answer === "conflict" || counts === "set_aside" || erased === true;
}

/**
 * Tell whether an entry of others is part of the record.
 * @param {PulledEntry} entry
 * @returns {boolean}
 */
export function isReadable({ counts, body }) {
  return counts === "counted" && body !== null;
}

/**
 * @param {Base} base
 * @param {SyncReply} reply
 * @returns {Promise<{current: string, ruled: Set<IDBValidKey>, mine: Set<string>}>} mine: headers
 *   given of entries that this database wrote
 */
function standing(base, { pull }) {
  const given = pull.flatMap(({ entries }) => entries.map(({ header }) => header));
  return base.transact(["meta", "rulings", "entries"], "readonly", async (tx) => {
    const byId = tx.objectStore("entries").index("id");
    const found = await Promise.all(given.map((header) => result(byId.getKey(decodeHeader(header).id))));
    return {
      current: /** @type {MetaRows["log"]} */ (await metaRow(tx, "log")).current,
      ruled: new Set(await result(tx.objectStore("rulings").getAllKeys())),
      mine: new Set(given.filter((header, n) => isAt(found[n], header))),
    };
  });
}

/**
 * @param {IDBValidKey | undefined} place log and seq
 * @param {string} header
 * @returns {boolean} another writer's entry under an id of ours is not ours
 */
function isAt(place, header) {
  const { log, seq } = decodeHeader(header);
  return Array.isArray(place) && place[0] === log && place[1] === seq;
}

/**
 * @param {PulledEntry} entry
 * @returns {string}
 */
function idOf({ header }) {
  return decodeHeader(header).id;
}

/**
 * @param {PulledEntry} entry
 * @returns {Ruled}
 */
function asRuled({ header, body, counts, because, position }) {
  const { id, log, seq } = decodeHeader(header);
  const erased = counts === "counted" && body === null;
  return { ruling: { id, answer: "kept", counts, because, position, ...(erased ? { erased } : {}) }, log, seq };
}

/**
 * @param {Keys} keys
 * @param {string} record
 * @param {string} log
 * @param {SyncReply} reply
 * @param {PulledEntry[]} entries
 * @param {Sorted} sorted filled
 */
async function sealPacks(keys, record, log, { server_key }, entries, sorted) {
  const sealer = await keys.sealer(record, log, server_key);
  if (sealer.fresh) sorted.keys.push(sealer.fresh);
  for (let at = 0; at < entries.length; at += PACK) {
    const text = utf8(JSON.stringify(entries.slice(at, at + PACK)));
    sorted.rows.push({ record, key: sealer.id, sealed: await seal(sealer.key, pulledName({ record }), text) });
  }
}
