/** @import { Change, Enrolment, Fold, JsonObject, NewEntry, Person, Reader, RecordRow, Status } from "../types.js" */
/** @import { ByCode, LockSettings } from "../types-lock.js" */
/** @import { Wire } from "../types-sync.js" */
import { append, foresee, takeTurns } from "./append.js";
import { openChannel } from "./channel.js";
import { browserZone } from "./clock.js";
import { openBase } from "./db.js";
import { dropDraft, keepDraft, readDrafts, sealDraft } from "./drafts.js";
import { openDataKey } from "./data-key.js";
import { useKey } from "./key-in-use.js";
import { endByCode, takeOver } from "./by-code.js";
import { codedKeys } from "./coded-keys.js";
import { openKeys } from "./keys.js";
import { openLimits } from "./limits-kept.js";
import { lockedKeys } from "./locked-keys.js";
import { readMeta } from "./meta.js";
import { readyLog } from "./outbox.js";
import { watchStorage } from "./persist.js";
import { fold } from "./fold.js";
import { openHolder } from "./in-use.js";
import { forgetPhoto, keepPhoto, readPhoto } from "./photos.js";
import { StoreProblem, asProblem } from "./problem.js";
import { openReader } from "./reader.js";
import { askFor, holdsAny, latestWritten, listRecords } from "./records.js";
import { readStatus } from "./status.js";
import { takenAway } from "./taken-away.js";
import { uuid7 } from "./uuid.js";
import { whereIs } from "./whereabouts.js";
import { openWire } from "./wire.js";

/**
 * @typedef {object} Store Everything a screen may ask of this tablet's log.
 * @property {() => string} newRecord a fresh record id; writes nothing
 * @property {(record: string) => Promise<string>} begin begin a case; returns its code of four digits
 * @property {boolean} isByCode nobody unlocked the tablet: only cases opened by code are here
 * @property {(record: string) => string | null} codeOf the code that opens it again after a lock
 * @property {() => import("../sw-codes.js").OpenCase[]} openByCode those that are open on this page
 * @property {(records: string[]) => Promise<void>} endByCode they are over
 * @property {(record: string, entry: NewEntry) => Promise<{id: string, at: string, seq: number}>} append
 *   resolves only after the durable commit; rejects with StoreProblem: not kept
 * @property {(record: string) => Promise<Fold>} fold
 * @property {() => Promise<RecordRow[]>} records latest first
 * @property {() => Promise<{record: string, ms: number} | null>} latest the record written in last here
 * @property {(record: string) => Promise<boolean>} holds whether there is anything of it here
 * @property {(record: string) => Promise<import("./whereabouts.js").Whereabouts>} whereIs where its entries are
 * @property {(listener: (change: Change, isFromHere: boolean) => void) => () => void} onChange returns what stops it
 * @property {() => Promise<Status>} status
 * @property {() => Promise<Person[]>} people
 * @property {() => Promise<Omit<Enrolment, "token" | "server_key"> | null>} enrolment
 * @property {() => string} zone the hospital's, else this browser's
 * @property {(record: string, path: string, text: string) => Promise<void>} draft
 * @property {(record: string, path: string, text: string, stands?: () => boolean) => Promise<() => Promise<void>>} sealDraft
 *   resolves with what writes it, in the task in which that is called
 * @property {(record: string) => Promise<{[path: string]: string}>} drafts
 * @property {(record: string, path: string) => Promise<void>} dropDraft
 * @property {(record: string, blob: Blob, caption?: string) => Promise<JsonObject>} putPhoto
 * @property {(value: {sealed: string}) => Promise<Blob | null>} photo
 * @property {(value: {sealed: string}) => Promise<void>} forgetPhoto unless an entry names it
 * @property {(record: string) => Promise<void>} openRecord ask the server for it
 * @property {(record: string) => number} shut how many of its entries, as it was read last, lie under a key that is not here
 * @property {(record: string) => void} holdOpen it is the case open on this page, which nothing takes away; "": none is
 * @property {() => Promise<import("../types-stay.js").TakenAway[]>} takenAway cases that cannot be read on this tablet, or not whole
 * @property {(record: string, form: JsonObject) => Promise<void>} beginLimits keep the limits a record begins with
 * @property {(record: string) => Promise<JsonObject | null>} limitsOf null: not told yet
 * @property {() => void} close
 * @property {() => Promise<LockSettings | null>} settings null: not told yet
 * @property {boolean} isClosed the tablet has a passphrase
 * @property {boolean} older this page is older than the database
 * @property {Wire} wire for sync only
 */

/**
 * Open this tablet's log: its database, its keys, what it holds.
 * @param {object} [options]
 * @param {string} [options.name]
 * @param {() => number} [options.now] Unix milliseconds
 * @param {number | Promise<number>} [options.catalogue] version of the fields; awaited only where a snapshot is read or made
 * @param {() => void} [options.onBlocked] another window stands in the way of a newer database; opening waits
 * @param {() => Promise<CryptoKey | null>} [options.dataKey] asked where the tablet has a passphrase
 * @param {ByCode} [options.byCode] who holds the keys of cases begun without unlocking
 * @param {() => Promise<string | null>} [options.siteZone] the zone of a log that is enrolled nowhere itself; null: this browser's
 * @param {boolean} [options.isForSync] open a locked tablet too: it sends, and shows and writes nothing
 * @returns {Promise<Store>}
 * @throws {StoreProblem} when this browser can keep nothing, or the tablet is locked
 */
export async function openStore({ name = "wiremark", now = Date.now, catalogue = 0, onBlocked = () => {}, dataKey = async () => null, byCode, siteZone = async () => null, isForSync = false } = {}) {
  const channel = openChannel(name);
  /** @type {Reader | null} */
  let reader = null;
  let letGo = () => {};
  try {
    const base = await openBase({ name, onBlocked, onLost: () => reader?.stale() });
    if (!base.older) await readyLog(base);
    letGo = await useKey(name);
    const { key, isClosed } = await openDataKey(base, dataKey);
    const cases = key ? null : await byCode?.enter();
    if (!key && !cases && !isForSync) throw new StoreProblem("locked");
    // Where the disk is full they stay where they are, until the next time.
    if (key && byCode) await takeOver(base, key, byCode).catch(() => {});
    const keys = key ? openKeys(base, key) : cases ? await codedKeys(base, cases) : lockedKeys(base);
    reader = openReader(base, keys, catalogue);
    const lock = `${name}-log`;
    const spare = { log: uuid7(now()), seq: 0 };
    const elsewhere = (await siteZone()) ?? browserZone();
    const shelf = { base, elsewhere, keys, reader, lock, now, channel, spare, last: { log: "", seq: 0 }, turn: Promise.resolve(), standing: null, crowded_ms: 0 };
    const enrolled = await readMeta(base, "enrolment");
    return storeOver(shelf, enrolled?.zone ?? elsewhere, isClosed, letGo);
  } catch (error) {
    letGo();
    channel.close();
    throw asProblem(error);
  }
}

/**
 * @param {import("../types.js").Writer} shelf
 * @param {string} zone
 * @param {boolean} isClosed
 * @param {() => void} letGo of the data key
 * @returns {Store}
 */
function storeOver(shelf, zone, isClosed, letGo) {
  const { base, reader, channel } = shelf;
  const [limits, hold] = [openLimits(base), openHolder(shelf.lock)];
  let shown = "";
  channel.listen((change, isFromHere) => {
    if (change.what === "record" && change.isGone) for (const part of [shelf.keys, reader]) part.forget(change.record);
    if (change.what === "status" || !isFromHere) limits.stale();
    if (!isFromHere && change.what === "record") reader.stale(change.record);
    if (change.what === "status") reader.ruled();
    const isWriting = change.what === "crowd" || (change.what === "record" && change.isWritten);
    if (isWriting && !isFromHere) takeTurns(shelf);
    if (change.what === "status" || !isFromHere) void foresee(shelf);
  });
  void foresee(shelf);
  const staying = watchStorage(shelf.now);
  return {
    newRecord: () => uuid7(shelf.now()),
    begin: shelf.keys.begin,
    isByCode: shelf.keys.isByCode,
    codeOf: shelf.keys.codeOf,
    openByCode: shelf.keys.open,
    endByCode: (records) => endByCode(base, records),
    append: async (record, given) => {
      const { id, seq, body } = await append(shelf, record, given).catch((error) => Promise.reject(asProblem(error)));
      channel.tell({ what: "record", record, isWritten: true });
      return { id, seq, at: body.at.utc };
    },
    fold: (record) => (shelf.keys.isHere(record) ? reader.fold(record) : Promise.resolve(fold([]))),
    records: () => listRecords(shelf),
    latest: () => latestWritten(shelf),
    holds: (record) => holdsAny(shelf, record),
    whereIs: (record) => whereIs(shelf, record),
    onChange: channel.listen,
    status: async () => readStatus(shelf, await staying(), { shut: reader.shut(shown), damaged: reader.damaged() }),
    people: async () => (await readMeta(base, "people"))?.list ?? [],
    enrolment: async () => {
      const row = await readMeta(base, "enrolment");
      return row ? { tablet: row.tablet, hospital: row.hospital, zone: row.zone } : null;
    },
    zone: () => zone,
    draft: (record, path, text) => keepDraft(shelf, record, path, text),
    sealDraft: (record, path, text, stands) => sealDraft(shelf, record, path, text, stands),
    drafts: (record) => readDrafts(shelf, record),
    dropDraft: (record, path) => dropDraft(shelf, record, path),
    putPhoto: (record, blob, caption = "") => keepPhoto(shelf, record, blob, caption),
    photo: (value) => readPhoto(shelf, value),
    forgetPhoto: (value) => forgetPhoto(shelf, value),
    openRecord: async (record) => {
      await askFor(shelf, record);
      channel.tell({ what: "asked" });
    },
    holdOpen: (record) => {
      shown = record;
      hold(record);
    },
    shut: reader.shut,
    takenAway: () => takenAway(shelf),
    beginLimits: limits.begin,
    limitsOf: limits.of,
    close: () => {
      channel.close();
      base.close();
      letGo();
    },
    settings: async () => (await readMeta(base, "settings")) ?? null,
    older: base.older,
    isClosed,
    wire: openWire(shelf),
  };
}
