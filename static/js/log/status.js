/** @import { Base, Body, Complaint, EntryRow, Keys, MetaRows, Ruling, Status, Storage, SyncState } from "../types.js" */
import { result } from "./transaction.js";
import { NEVER_SYNCED, metaRow } from "./meta.js";
import { openOwn } from "./opened.js";
import { photosRow } from "./photos.js";
import { isNoteworthy } from "./pulled.js";
import { notesOf, wordsOf } from "./strip.js";
import { knownUpTo } from "./sure.js";
import { countOwn, countUnsent } from "./unsent.js";

/**
 * What the strip told of is opened once: it asks at every tap.
 * @type {WeakMap<Base, Map<string, Body>>}
 */
const bodies = new WeakMap();

/**
 * Tell where this tablet's entries are.
 * @param {{base: Base, keys: Keys}} shelf
 * @param {Storage} storage
 * @param {{shut: number, damaged: number}} unread entries whose key is not here, and that did not open
 * @returns {Promise<Status>}
 */
export async function readStatus({ base, keys }, storage, { shut, damaged }) {
  const { sync, enrolled, unsent, ruled, photosHere, photosRefused, outside, inLog } = await readCounts(base);
  const complaints = await withBodies(base, keys, ruled.filter(({ ruling }) => isNoteworthy(ruling)));
  const total = inLog + outside;
  const beyond = ruled.filter(({ row }) => row && row.seq > knownUpTo(sync, row.log));
  const waiting = outside + unsent - beyond.length;
  const saying = (/** @type {Ruling["answer"]} */ word) => complaints.filter(({ ruling }) => ruling.answer === word).map(bare);
  const [refused, conflicts] = [saying("refused"), saying("conflict")];
  const counts = {
    total,
    unsent: waiting,
    onServer: total - waiting - refused.length - conflicts.length,
    setAside: complaints.filter(({ ruling }) => ruling.counts === "set_aside").map(bare),
    refused,
    conflicts,
    erased: complaints.filter(({ ruling }) => ruling.erased).map(bare),
    photosHere,
    photosRefused,
    shut,
    damaged,
    lastSync: sync.last_sync_ms,
    reach: sync.reach,
    lastError: sync.last_error,
    skew_ms: sync.skew_ms,
    head: sync.head,
    wentBack: sync.went_back,
    lost: sync.lost ?? 0,
    storage,
    older: base.older,
    enrolled,
  };
  return { ...counts, words: wordsOf(counts), notes: notesOf(counts) };
}

/**
 * @param {Base} base
 * @returns {Promise<{
 *   sync: SyncState, enrolled: boolean, unsent: number,
 *   ruled: {ruling: Ruling, row: EntryRow | undefined}[], photosHere: number,
 *   photosRefused: Status["photosRefused"], outside: number, inLog: number}>}
 */
function readCounts(base) {
  const stores = ["meta", "entries", "rulings", "photos", "outbox"];
  return base.transact(stores, "readonly", async (tx) => {
    /** @type {Promise<Ruling[]>} */
    const telling = result(tx.objectStore("rulings").getAll());
    const counting = Promise.all([tx.objectStore("photos").index("waiting"), tx.objectStore("outbox")].map((store) => result(store.count())));
    // Asked together: each question by itself takes its way to the disk and back.
    const [log, sync = NEVER_SYNCED, enrolment, photos, rulings] = await Promise.all([metaRow(tx, "log"), metaRow(tx, "sync"), metaRow(tx, "enrolment"), photosRow(tx), telling]);
    const byId = tx.objectStore("entries").index("id");
    const ruled = rulings.map(async (ruling) => ({ ruling, row: await result(byId.get(ruling.id)) }));
    const unsent = countUnsent(tx, /** @type {MetaRows["log"]} */ (log), sync);
    const photosRefused = Object.entries(photos.refused).map(([sealed, told]) => ({ sealed, ...told }));
    const inLog = await countOwn(base, tx, /** @type {MetaRows["log"]} */ (log));
    const [photosHere, outside] = await counting;
    return { sync, enrolled: Boolean(enrolment), unsent: await unsent, ruled: await Promise.all(ruled), photosHere, photosRefused, outside, inLog };
  });
}

/**
 * @param {Base} base
 * @param {Keys} keys
 * @param {{ruling: Ruling, row: EntryRow | undefined}[]} ruled
 * @returns {Promise<{ruling: Ruling, row: EntryRow | undefined, body: Body | null}[]>}
 */
function withBodies(base, keys, ruled) {
  const known = bodies.get(base) ?? new Map();
  bodies.set(base, known);
  return Promise.all(
    ruled.map(async ({ ruling, row }) => {
      if (row && !known.has(row.header)) {
        const [opened] = await openOwn(keys, [row]);
        if (opened) known.set(row.header, opened.body);
      }
      return { ruling, row, body: (row && known.get(row.header)) ?? null };
    }),
  );
}

/**
 * @param {{ruling: Ruling, row: EntryRow | undefined, body: Body | null}} told
 * @returns {Complaint}
 */
function bare({ ruling, row, body }) {
  const ms = body ? Date.parse(body.at.utc) : NaN;
  return {
    id: ruling.id,
    record: row?.record ?? "",
    path: body?.path ?? null,
    value: body?.value ?? null,
    op: body?.op ?? "set",
    ms: Number.isNaN(ms) ? null : ms,
    because: ruling.because ?? ruling.answer,
  };
}
