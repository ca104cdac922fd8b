/** @import { Base, Enrolment, EntryRow, Keys, MetaRows, PhotoRow } from "../types.js" */
/** @import { PhotoQueue, PhotoToSend } from "../types-sync.js" */
/** @import { Channel } from "./channel.js" */
import { hex, sha256 } from "./bytes.js";
import { NEVER_SYNCED, metaRow, putMeta } from "./meta.js";
import { sendable } from "./outgoing-wraps.js";
import { photosRow } from "./photos.js";
import { result } from "./transaction.js";
import { waitingRows } from "./unsent.js";

/**
 * Give sync the photos that wait: after the entries, one at a time. None leaves the
 * queue before the server answered for it by its name.
 * @param {{base: Base, keys: Keys, channel: Channel}} shelf
 * @returns {PhotoQueue}
 */
export function openPhotoQueue({ base, keys, channel }) {
  /** @param {Promise<void>} change */
  const told = (change) => change.then(() => channel.tell({ what: "status" }));
  return {
    next: (passed) => nextPhoto(base, keys, passed),
    names: () => namesHeld(base),
    settle: (sealed) => told(mark(base, sealed, false)),
    refuse: (sealed, because) => told(refuse(base, sealed, because)),
    compare: (asked, answer) => told(compare(base, asked, answer)),
  };
}

/**
 * @param {Base} base
 * @param {Keys} keys
 * @param {Set<string>} passed
 * @returns {Promise<PhotoToSend | null>} null: none waits, or entries go first
 */
async function nextPhoto(base, keys, passed) {
  const stores = ["meta", "entries", "rulings", "photos"];
  /** @type {{names: string[], entries: EntryRow[], enrolment?: Enrolment, most: MetaRows["photos"]["most"]}} */
  const { names, entries, enrolment, most } = await base.transact(stores, "readonly", async (tx) => {
    const log = /** @type {MetaRows["log"]} */ (await metaRow(tx, "log"));
    const { loose, most } = await photosRow(tx);
    const entries = await waitingRows(tx, log, (await metaRow(tx, "sync")) ?? NEVER_SYNCED);
    const waiting = (await result(tx.objectStore("photos").index("waiting").getAllKeys())).map(String);
    const names = waiting.filter((sealed) => !passed.has(sealed) && !loose[sealed]);
    return { names, entries, enrolment: await metaRow(tx, "enrolment"), most };
  });
  // Entries that a locked tablet cannot send go before no photo that it can.
  if (!enrolment || (await sendable(keys, entries, enrolment)).length) return null;
  for (const sealed of names) {
    /** @type {PhotoRow | undefined} */
    const row = await base.transact(["photos"], "readonly", (tx) => result(tx.objectStore("photos").get(sealed)));
    const key = row ? await keys.wrapped(row.key, enrolment.server_key) : null;
    // While locked one without its key's wrap waits for somebody to unlock the tablet; its
    // key is not gone, and it holds up no other.
    if (!row || (!key && keys.isLocked)) continue;
    return { row, key, problem: await problemOf(row, key !== null, most) };
  }
  return null;
}

/**
 * @param {PhotoRow} row
 * @param {boolean} hasKey
 * @param {MetaRows["photos"]["most"]} most
 * @returns {Promise<string | null>} why it cannot be sent at all
 */
async function problemOf({ sealed, bytes }, hasKey, most) {
  if (!hasKey) return "storage.photo_key_gone";
  if (most && bytes.length > most.bytes) return most.because;
  return hex(await sha256(bytes)) === sealed ? null : "storage.photo_damaged";
}

/**
 * @param {Base} base
 * @returns {Promise<string[]>} of each photo that an entry names
 */
function namesHeld(base) {
  return base.transact(["meta", "photos"], "readonly", async (tx) => {
    const { loose } = await photosRow(tx);
    const names = await result(tx.objectStore("photos").getAllKeys());
    return names.map(String).filter((sealed) => !loose[sealed]);
  });
}

/**
 * @param {Base} base
 * @param {string} sealed
 * @param {boolean} isWaiting
 * @returns {Promise<void>}
 */
function mark(base, sealed, isWaiting) {
  return base.transact(["meta", "photos"], "readwrite", async (tx) => {
    const { refused, ...rest } = await photosRow(tx);
    const { [sealed]: _, ...others } = refused;
    putMeta(tx, "photos", { ...rest, refused: others });
    /** @type {PhotoRow | undefined} */
    const row = await result(tx.objectStore("photos").get(sealed));
    if (!row || Boolean(row.waiting) === isWaiting) return;
    const { waiting: __, ...bare } = row;
    tx.objectStore("photos").put(isWaiting ? { ...bare, waiting: 1 } : bare);
  });
}

/**
 * @param {Base} base
 * @param {string} sealed
 * @param {string} because
 * @returns {Promise<void>}
 */
function refuse(base, sealed, because) {
  return base.transact(["meta", "photos"], "readwrite", async (tx) => {
    /** @type {PhotoRow | undefined} */
    const row = await result(tx.objectStore("photos").get(sealed));
    // It was erased, or taken away, while it was on its way: there is nothing to tell of.
    if (!row) return;
    const photos = await photosRow(tx);
    putMeta(tx, "photos", { ...photos, refused: { ...photos.refused, [sealed]: { record: row.record, because } } });
  });
}

/**
 * A server that went back lacks what it had; one whose answer was lost has what waits.
 * @param {Base} base
 * @param {string[]} asked
 * @param {{lacks: string[], most_bytes: number, too_large: string}} answer
 * @returns {Promise<void>}
 */
async function compare(base, asked, { lacks, most_bytes, too_large }) {
  /** @type {Set<string>} */
  const waiting = await base.transact(["meta", "photos"], "readwrite", async (tx) => {
    putMeta(tx, "photos", { ...(await photosRow(tx)), most: { bytes: most_bytes, because: too_large } });
    return new Set((await result(tx.objectStore("photos").index("waiting").getAllKeys())).map(String));
  });
  const lacking = new Set(lacks);
  for (const sealed of asked) {
    if (lacking.has(sealed) !== waiting.has(sealed)) await mark(base, sealed, lacking.has(sealed));
  }
}
