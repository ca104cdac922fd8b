/** @import { Base, EntryRow, Keys, PulledEntry, PulledRow } from "../types.js" */
/** @import { SyncReply } from "../types-sync.js" */
import { utf8 } from "./bytes.js";
import { decodeBody, decodeHeader, encodeBody } from "./entry.js";
import { metaRow, putMeta, readMeta } from "./meta.js";
import { openPulled, pulledName } from "./opened.js";
import { dropPhotos, photosIn } from "./photos.js";
import { open, seal } from "./seal.js";
import { dropSnapshotIn } from "./snapshots.js";
import { result } from "./transaction.js";

/**
 * @typedef {object} Blanked What is written in place of words.
 * @property {EntryRow[]} own
 * @property {{key: IDBValidKey, row: PulledRow}[]} pulled
 * @property {string[]} photos that the words named
 * @property {string[]} left headers of entries whose words could not be reached
 */

/**
 * Note, within the transaction that keeps what a reply told, which words the desk erased:
 * the server tells it once, and it stands here until it is done.
 * @param {IDBTransaction} tx over `meta`
 * @param {Pick<SyncReply, "pull" | "went_back">} reply
 * @returns {Promise<void>}
 */
export async function noteErased(tx, { pull, went_back }) {
  const before = (await metaRow(tx, "erasing"))?.of ?? {};
  // A server that went back tells all of it in this very answer.
  const of = went_back ? {} : { ...before };
  for (const { record, entries } of pull) {
    const headers = new Set(of[record]);
    for (const { header, body, counts } of entries) {
      // One that the server never opened has no body there either, and is only here.
      if (body === null && counts === "counted") headers.add(header);
      else headers.delete(header);
    }
    of[record] = [...headers];
  }
  const some = Object.entries(of).filter(([, headers]) => headers.length);
  if (some.length || Object.keys(before).length) putMeta(tx, "erasing", { of: Object.fromEntries(some) });
}

/**
 * Take off this tablet's disk the words that the desk erased, as noted: out of an own entry
 * and what others wrote, with the photos they name, and every copy. What the entry was of,
 * by whom and when stays. What fails holds up no other, and is tried again at the next
 * contact. Call under the log's lock.
 * @param {{base: Base, keys: Keys}} shelf
 * @returns {Promise<void>}
 */
export async function eraseHere({ base, keys }) {
  if (keys.isLocked) return;
  const told = (await readMeta(base, "erasing"))?.of ?? {};
  for (const [record, headers] of Object.entries(told)) {
    await blanked(base, keys, record, headers).then((found) => put(base, record, found)).catch(() => {});
  }
}

/**
 * @param {Base} base
 * @param {string} record
 * @param {Blanked} found
 * @returns {Promise<void>}
 */
function put(base, record, { own, pulled, photos, left }) {
  return base.transact(["meta", "entries", "pulled", "packs", "photos"], "readwrite", async (tx) => {
    for (const row of own) tx.objectStore("entries").put(row);
    for (const { key, row } of pulled) tx.objectStore("pulled").put(row, key);
    if (own.length || pulled.length || left.length) {
      tx.objectStore("packs").delete(IDBKeyRange.bound([record], [record, []]));
      dropSnapshotIn(tx, record);
    }
    await dropPhotos(tx, record, photos);
    const { [record]: _, ...others } = (await metaRow(tx, "erasing"))?.of ?? {};
    putMeta(tx, "erasing", { of: left.length ? { ...others, [record]: left } : others });
  });
}

/**
 * @param {Base} base
 * @param {Keys} keys
 * @param {string} record
 * @param {string[]} headers
 * @returns {Promise<Blanked>}
 */
async function blanked(base, keys, record, headers) {
  const tried = await Promise.allSettled(headers.map((header) => blankedOwn(base, keys, header)));
  const own = tried.flatMap((one) => (one.status === "fulfilled" && one.value ? [one.value] : []));
  const { pulled, photos, isWhole } = await blankedPulled(base, keys, record, new Set(headers));
  // A pack that does not open may hold any of them.
  const left = headers.filter((_, n) => !isWhole || tried[n]?.status === "rejected");
  return { own: own.map(({ row }) => row), pulled, photos: [...photos, ...own.flatMap((one) => one.photos)], left };
}

/**
 * Seal an own entry again, without its words. It is never sent: the server has the entry,
 * and these are not its bytes any more.
 * @param {Base} base
 * @param {Keys} keys
 * @param {string} header
 * @returns {Promise<{row: EntryRow, photos: string[]} | null>} null: not written here, or done
 */
async function blankedOwn(base, keys, header) {
  const { id, key } = decodeHeader(header);
  /** @type {EntryRow | undefined} */
  const row = await base.transact(["entries"], "readonly", (tx) => result(tx.objectStore("entries").index("id").get(id)));
  // Another writer's entry under an id of ours is not ours.
  if (!row || row.erased || row.header !== header) return null;
  const opener = await keys.opener(key);
  if (!opener) throw new RangeError("an own entry without its key");
  const body = decodeBody(await open(opener, header, row.sealed));
  const { digest: _, ...bare } = row;
  const sealed = await seal(opener, header, encodeBody({ ...body, value: "" }));
  return { row: { ...bare, sealed, erased: true }, photos: photosIn(body.value) };
}

/**
 * @param {Base} base
 * @param {Keys} keys
 * @param {string} record
 * @param {Set<string>} erased headers
 * @returns {Promise<Pick<Blanked, "pulled" | "photos"> & {isWhole: boolean}>} packs that held words of
 *   these, without them; isWhole: each pack of the record could be read
 */
async function blankedPulled(base, keys, record, erased) {
  /** @type {[IDBValidKey[], PulledRow[]]} */
  const [places, rows] = await base.transact(["pulled"], "readonly", (tx) => {
    const index = tx.objectStore("pulled").index("record");
    return Promise.all([result(index.getAllKeys(record)), result(index.getAll(record))]);
  });
  const isWord = (/** @type {PulledEntry} */ { header, body }) => body !== null && erased.has(header);
  const packs = await openPulled(keys, rows);
  const [pulled, photos] = [/** @type {Blanked["pulled"]} */ ([]), /** @type {string[]} */ ([])];
  for (const [n, pack] of packs.entries()) {
    const [row, words] = [rows[n], pack?.filter(isWord) ?? []];
    const key = words.length ? await keys.opener(row.key) : null;
    if (!pack || !key) continue;
    photos.push(...words.flatMap(({ body }) => photosIn(decodeBody(utf8(body ?? "")).value)));
    const blank = pack.map((entry) => (isWord(entry) ? { ...entry, body: null } : entry));
    pulled.push({ key: places[n], row: { ...row, sealed: await seal(key, pulledName({ record }), utf8(JSON.stringify(blank))) } });
  }
  return { pulled, photos, isWhole: !packs.includes(null) };
}
