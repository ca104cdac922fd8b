/** @import { EntryRow, KeyRow, MetaRows, NewEntry, Opened, Sealer, Standing, Writer } from "../types.js" */
import { clearDraft } from "./drafts.js";
import { NEVER_SYNCED, metaRow, putMeta } from "./meta.js";
import { keepOutside } from "./outbox.js";
import { nameLoose, photosIn } from "./photos.js";
import { bodyOf, sealEntry } from "./writing.js";

/** Another page took the place meanwhile, or the log ended: read again where it stands. */
export class PlaceTaken extends Error {}

/**
 * Keep one entry in this place of the log; resolves after the durable commit of entry
 * and tip together.
 * @param {Writer} writer
 * @param {string} record
 * @param {NewEntry} given
 * @param {Standing} standing
 * @param {Sealer} sealer
 * @returns {Promise<Opened>}
 * @throws {PlaceTaken} when it is not the log's next place any more: nothing was kept
 */
export async function keptAt(writer, record, given, standing, sealer) {
  const { log, seq } = standing;
  const body = bodyOf(given, await seenBy(writer, record, given, standing), writer.now(), standing);
  const entry = await sealEntry(sealer, record, standing, body, writer.now());
  // A newer page brought the database on since the place was read: it is not this page's.
  if (writer.base.older !== (log === writer.spare.log)) throw new PlaceTaken();
  if (writer.base.older) await keepOutside(writer, entry.row, sealer.fresh, given);
  else await keep(writer, entry.row, sealer.fresh, given);
  writer.last = { log, seq };
  writer.standing = { ...standing, seq: seq + 1 };
  return { id: entry.row.id, log, seq, body: entry.body };
}

/**
 * Return the answers that a new one replaces: those that stand on this tablet now,
 * whichever of its pages wrote them. The place that the entry is kept in proves that no page
 * of this tablet wrote since, so that two quick taps on one field never become two answers.
 * @param {Writer} writer
 * @param {string} record
 * @param {NewEntry} given
 * @param {{log: string, seq: number}} place
 * @returns {Promise<string[]>}
 */
async function seenBy(writer, record, { op = "set", path, seen }, place) {
  const isOthers = writer.last.log !== place.log || writer.last.seq !== place.seq - 1;
  if (isOthers) writer.reader.stale();
  if (op !== "set") return [];
  if (seen) return seen;
  const { values } = await writer.reader.fold(record);
  return Object.hasOwn(values, path) ? values[path].flatMap((answer) => answer.entries) : [];
}

/**
 * What the log stands at.
 * @param {Writer} writer
 * @returns {Promise<Standing>}
 */
export async function readStanding({ base, spare, elsewhere }) {
  // Asked together: each question by itself takes its way to the disk and back.
  const [log, enrolment, sync = NEVER_SYNCED] = await base.transact(["meta"], "readonly", (tx) =>
    Promise.all([metaRow(tx, "log"), metaRow(tx, "enrolment"), metaRow(tx, "sync")]),
  );
  const place = base.older ? { log: spare.log, seq: spare.seq + 1 } : nextPlace(log);
  return {
    ...place,
    server: enrolment?.server_key ?? null,
    zone: enrolment?.zone ?? elsewhere,
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
    if (base.older) throw new PlaceTaken();
    const log = /** @type {MetaRows["log"]} */ (await metaRow(tx, "log"));
    if (log.current !== row.log || (log.tips[row.log] ?? 0) !== row.seq - 1) throw new PlaceTaken();
    tx.objectStore("entries").add(row);
    putMeta(tx, "log", { ...log, tips: { ...log.tips, [row.log]: row.seq } });
    if (freshKey) tx.objectStore("keys").add(freshKey);
    const photos = photosIn(given.value);
    if (photos.length) await nameLoose(tx, photos);
    clearDraft(tx, row.record, given);
  });
}
