/** @import { Base, Keys, MetaRows, PulledEntry, Reader, Ruled, Ruling, Sorted, SyncReply } from "../types.js" */
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
  const { log, ruled } = await standing(base);
  /** @type {Sorted} */
  const sorted = { rows: [], keys: [], own: [], changed: [] };
  for (const { record, entries } of reply.pull) {
    const known = await reader.known(record);
    const own = entries.filter((entry) => isOwn(log, entry)).map(asRuled);
    const fresh = entries.filter((e) => !isOwn(log, e) && known.get(idOf(e)) !== (e.counts === "counted"));
    sorted.own.push(...own);
    if (fresh.length || own.some(({ ruling }) => isNoteworthy(ruling) || ruled.has(ruling.id))) sorted.changed.push(record);
    if (fresh.length) await sealPacks(keys, record, log.current, reply, fresh, sorted);
  }
  return sorted;
}

/**
 * Tell whether a ruling says more than "kept and counted".
 * @param {Ruling} ruling
 * @returns {boolean}
 */
export function isNoteworthy({ answer, counts }) {
  return answer === "refused" || answer === "conflict" || counts === "set_aside";
}

/**
 * @param {Base} base
 * @returns {Promise<{log: MetaRows["log"], ruled: Set<IDBValidKey>}>}
 */
function standing(base) {
  return base.transact(["meta", "rulings"], "readonly", async (tx) => ({
    log: await metaRow(tx, "log"),
    ruled: new Set(await result(tx.objectStore("rulings").getAllKeys())),
  }));
}

/**
 * @param {MetaRows["log"]} log
 * @param {PulledEntry} entry
 * @returns {boolean} written by this database, which therefore holds it
 */
function isOwn({ tips }, { header }) {
  const { log, seq } = decodeHeader(header);
  return seq <= (tips[log] ?? 0);
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
function asRuled({ header, counts, because, position }) {
  const { id, log, seq } = decodeHeader(header);
  return { ruling: { id, answer: "kept", counts, because, position }, log, seq };
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
