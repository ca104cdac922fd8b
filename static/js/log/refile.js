/** @import { Base, EntryRow, Keys, MetaRows, Ruling, Sealer, ServerKey } from "../types.js" */
import { digest, encodeHeader } from "./entry.js";
import { metaRow, putMeta } from "./meta.js";
import { open, seal } from "./seal.js";
import { dropSnapshotIn } from "./snapshots.js";
import { result } from "./transaction.js";

/**
 * Give entries whose place in an ended log was taken by others a place in the log of
 * now: the same id, the same body bytes. Happens when a tablet's disk was put back to
 * an older state and was written to before the server was heard. Call under the log's lock,
 * which keeps other pages from doing the same; their taps do not wait for it.
 * @param {{base: Base, keys: Keys}} shelf
 * @returns {Promise<string[]>} the records touched
 */
export async function refile({ base, keys }) {
  const { log, server, rows } = await displaced(base);
  /** @type {Set<string>} */
  const records = new Set();
  for (const row of rows) {
    const opener = await keys.opener(row.header.split("\n")[5]);
    if (!opener) continue;
    const body = await open(opener, row.header, row.sealed);
    const sealer = await keys.sealer(row.record, log.current, server);
    const before = JSON.stringify(log);
    const seq = (log.tips[log.current] ?? 0) + 1;
    log.tips[log.current] = seq;
    // A move makes one tip longer without one entry more.
    log.moves = (log.moves ?? 0) + 1;
    log.tips[row.log] = Math.min(log.tips[row.log], row.seq - 1);
    const header = encodeHeader({ id: row.id, record: row.record, log: log.current, seq, key: sealer.id });
    const sealed = await seal(sealer.key, header, body);
    const place = { log: log.current, seq, header, moved: true };
    const isMoved = await move(base, { before, log }, row, { ...row, ...place, sealed, digest: await digest(header, body) }, sealer);
    // A page kept an entry meanwhile: the place is that one's, the next is looked for.
    if (!isMoved) return [...records, ...(await refile({ base, keys }))];
    records.add(row.record);
  }
  return [...records];
}

/**
 * @param {Base} base
 * @returns {Promise<{log: MetaRows["log"], server: ServerKey | null, rows: EntryRow[]}>}
 */
function displaced(base) {
  return base.transact(["meta", "rulings", "entries"], "readonly", async (tx) => {
    const log = /** @type {MetaRows["log"]} */ (await metaRow(tx, "log"));
    /** @type {Ruling[]} */
    const rulings = await result(tx.objectStore("rulings").getAll());
    const conflicts = rulings.filter(({ answer }) => answer === "conflict");
    const byId = tx.objectStore("entries").index("id");
    const rows = await Promise.all(conflicts.map(({ id }) => result(byId.get(id))));
    const server = (await metaRow(tx, "enrolment"))?.server_key ?? null;
    return { log, server, rows: rows.filter((row) => row && !row.moved && row.log !== log.current) };
  });
}

/**
 * @param {Base} base
 * @param {{before: string, log: MetaRows["log"]}} change of the log's row
 * @param {EntryRow} from
 * @param {EntryRow} to
 * @param {Sealer} sealer
 * @returns {Promise<boolean>} false: the row is another one by now, and nothing moved
 */
function move(base, { before, log }, from, to, { fresh }) {
  return base.transact(["meta", "rulings", "entries", "keys", "packs"], "readwrite", async (tx) => {
    if (JSON.stringify(await metaRow(tx, "log")) !== before) return false;
    putMeta(tx, "log", log);
    // What stands in the place it leaves was passed over as this tablet's own.
    putMeta(tx, "since", { of: {} });
    if (fresh) tx.objectStore("keys").put(fresh);
    tx.objectStore("entries").delete([from.log, from.seq]);
    tx.objectStore("entries").add(to);
    tx.objectStore("rulings").delete(to.id);
    // Packs hold the entry in its former place; they are made again.
    tx.objectStore("packs").delete(IDBKeyRange.bound([to.record], [to.record, []]));
    dropSnapshotIn(tx, to.record);
    return true;
  });
}
