/** @import { EntryRow, KeyRow, NewEntry, Opened, Writer } from "../types.js" */
import { browserZone } from "./clock.js";
import { clearDraft } from "./drafts.js";
import { underLock } from "./lock.js";
import { NEVER_SYNCED, metaRow, putMeta } from "./meta.js";
import { keepOutside } from "./outbox.js";
import { nameLoose, photosIn } from "./photos.js";
import { bodyOf, sealEntry } from "./writing.js";

/**
 * Keep one entry. Resolves only after the durable commit of entry and tip together.
 * @param {Writer} writer
 * @param {string} record
 * @param {NewEntry} given
 * @returns {Promise<Opened>}
 * @throws {StoreProblem} when it is not kept
 */
export function append(writer, record, given) {
  return underLock(writer.lock, async () => {
    const standing = await readStanding(writer);
    const sealer = await writer.keys.sealer(record, standing.log, standing.server);
    const body = bodyOf(given, await seenBy(writer, record, given, standing), writer.now(), standing);
    const entry = await sealEntry(sealer, record, standing, body, writer.now());
    if (writer.base.older) await keepOutside(writer, entry.row, sealer.fresh, given);
    else await keep(writer, entry.row, sealer.fresh, given);
    const opened = { id: entry.row.id, log: standing.log, seq: standing.seq, body: entry.body };
    await writer.reader.add(record, opened);
    return opened;
  });
}

/**
 * Return the answers that a new one replaces: those that stand on this tablet now,
 * whichever of its pages wrote them. Asked under the lock, so that two quick taps on one
 * field never become two answers.
 * @param {Writer} writer
 * @param {string} record
 * @param {NewEntry} given
 * @param {{log: string, seq: number}} place
 * @returns {Promise<string[]>}
 */
async function seenBy(writer, record, { op = "set", path, seen }, place) {
  const isOthers = writer.last.log !== place.log || writer.last.seq !== place.seq - 1;
  if (isOthers) writer.reader.stale();
  writer.last = { log: place.log, seq: place.seq };
  if (op !== "set") return [];
  if (seen) return seen;
  const { values } = await writer.reader.fold(record);
  return Object.hasOwn(values, path) ? values[path].flatMap((answer) => answer.entries) : [];
}

/**
 * What the log stands at: read under the lock, so that no second tab takes the same place.
 * @param {Writer} writer
 */
async function readStanding({ base, spare }) {
  // Asked together: each question by itself takes its way to the disk and back.
  const [log, enrolment, sync = NEVER_SYNCED] = await base.transact(["meta"], "readonly", (tx) =>
    Promise.all([metaRow(tx, "log"), metaRow(tx, "enrolment"), metaRow(tx, "sync")]),
  );
  const place = base.older ? { log: spare.log, seq: spare.seq + 1 } : nextPlace(log);
  return {
    ...place,
    server: enrolment?.server_key ?? null,
    zone: enrolment?.zone ?? browserZone(),
    skew_ms: /** @type {number | null} */ (sync.skew_ms),
  };
}

/** @param {{current: string, tips: {[log: string]: number}}} log */
function nextPlace({ current, tips }) {
  return { log: current, seq: (tips[current] ?? 0) + 1 };
}

/**
 * @param {Writer} writer
 * @param {EntryRow} row
 * @param {KeyRow | null} freshKey
 * @param {NewEntry} given
 * @returns {Promise<void>}
 */
function keep({ base }, row, freshKey, given) {
  return base.transact(["meta", "entries", "keys", "drafts"], "readwrite", async (tx) => {
    const log = /** @type {{current: string, tips: {[log: string]: number}}} */ (await metaRow(tx, "log"));
    tx.objectStore("entries").add(row);
    putMeta(tx, "log", { ...log, tips: { ...log.tips, [row.log]: row.seq } });
    if (freshKey) tx.objectStore("keys").add(freshKey);
    const photos = photosIn(given.value);
    if (photos.length) await nameLoose(tx, photos);
    clearDraft(tx, row.record, given);
  });
}
