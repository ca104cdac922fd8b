/** @import { Change, Enrolment, Fold, JsonObject, NewEntry, Person, Reader, RecordRow, Status } from "../types.js" */
/** @import { Wire } from "../types-sync.js" */
import { append, foresee, takeTurns } from "./append.js";
import { openChannel } from "./channel.js";
import { browserZone } from "./clock.js";
import { openBase } from "./db.js";
import { dropDraft, keepDraft, readDrafts, sealDraft } from "./drafts.js";
import { openKeys } from "./keys.js";
import { openLimits } from "./limits-kept.js";
import { readMeta } from "./meta.js";
import { readyLog } from "./outbox.js";
import { watchStorage } from "./persist.js";
import { forgetPhoto, keepPhoto, readPhoto } from "./photos.js";
import { asProblem } from "./problem.js";
import { openReader } from "./reader.js";
import { askFor, holdsAny, latestWritten, listRecords } from "./records.js";
import { readStatus } from "./status.js";
import { uuid7 } from "./uuid.js";
import { whereIs } from "./whereabouts.js";
import { openWire } from "./wire.js";

/**
 * @typedef {object} Store Everything a screen may ask of this tablet's log.
 * @property {() => string} newRecord a fresh record id; writes nothing
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
 * @property {(record: string) => Promise<void>} openRecord
 * @property {(record: string, form: JsonObject) => Promise<void>} beginLimits keep the limits a record begins with
 * @property {(record: string) => Promise<JsonObject | null>} limitsOf null: not told yet
 * @property {() => void} close
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
 * @returns {Promise<Store>}
 * @throws {StoreProblem} when this browser can keep nothing
 */
export async function openStore({ name = "wiremark", now = Date.now, catalogue = 0, onBlocked = () => {} } = {}) {
  const channel = openChannel(name);
  /** @type {Reader | null} */
  let reader = null;
  try {
    const base = await openBase({ name, onBlocked, onLost: () => reader?.stale() });
    if (!base.older) await readyLog(base);
    const keys = await openKeys(base);
    reader = openReader(base, keys, catalogue);
    const lock = `${name}-log`;
    const spare = { log: uuid7(now()), seq: 0 };
    const shelf = { base, keys, reader, lock, now, channel, spare, last: { log: "", seq: 0 }, turn: Promise.resolve(), standing: null, crowded_ms: 0 };
    const enrolled = await readMeta(base, "enrolment");
    return storeOver(shelf, enrolled?.zone ?? browserZone());
  } catch (error) {
    channel.close();
    throw asProblem(error);
  }
}

/**
 * @param {import("../types.js").Writer} shelf
 * @param {string} zone
 * @returns {Store}
 */
function storeOver(shelf, zone) {
  const { base, reader, channel } = shelf;
  const limits = openLimits(base);
  channel.listen((change, isFromHere) => {
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
    append: async (record, given) => {
      const { id, seq, body } = await append(shelf, record, given).catch((error) => Promise.reject(asProblem(error)));
      channel.tell({ what: "record", record, isWritten: true });
      return { id, seq, at: body.at.utc };
    },
    fold: reader.fold,
    records: () => listRecords(shelf),
    latest: () => latestWritten(shelf),
    holds: (record) => holdsAny(shelf, record),
    whereIs: (record) => whereIs(shelf, record),
    onChange: channel.listen,
    status: async () => readStatus(shelf, await staying(), reader.damaged()),
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
    openRecord: (record) => askFor(shelf, record),
    beginLimits: limits.begin,
    limitsOf: limits.of,
    close: () => {
      channel.close();
      base.close();
    },
    older: base.older,
    wire: openWire(shelf),
  };
}
