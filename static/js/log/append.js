/** @import { NewEntry, Opened, Writer } from "../types.js" */
import { underLock } from "./lock.js";
import { PlaceTaken, keptAt, readStanding } from "./placing.js";

/** So often a place is taken in a row only where something else is wrong. */
const ATTEMPTS = 20;
/** So long after another page wrote, or failed to for haste here, all wait for the lock. */
const CROWDED_MS = 2000;

/**
 * Keep one entry. Resolves only after the durable commit of entry and tip together.
 * This page's entries are kept one after the other. Waiting for a lock among pages takes
 * longer than writing, so the place is the one that this page knows, and the transaction
 * refuses it when another page was there first; then it is done again under the lock.
 * @param {Writer} writer
 * @param {string} record
 * @param {NewEntry} given
 * @returns {Promise<Opened>}
 * @throws {StoreProblem} when it is not kept
 */
export function append(writer, record, given) {
  const turn = writer.turn.then(async () => {
    const opened = (await quick(writer, record, given)) ?? (await underLock(writer.lock, () => thorough(writer, record, given)));
    await writer.reader.add(record, opened);
    return opened;
  });
  writer.turn = turn.catch(() => {});
  return turn;
}

/**
 * Read where the log stands before a tap asks for it.
 * @param {Writer} writer
 * @returns {Promise<void>}
 */
export async function foresee(writer) {
  const standing = await readStanding(writer).catch(() => null);
  // What this page wrote meanwhile is newer than what was read.
  writer.turn = writer.turn.then(() => {
    const isOld = standing && writer.last.log === standing.log && writer.last.seq >= standing.seq;
    writer.standing = standing && isOld ? { ...standing, seq: writer.last.seq + 1 } : standing;
  });
}

/**
 * Take turns with the other pages by the lock for a while: one of them writes, too.
 * @param {Writer} writer
 */
export function takeTurns(writer) {
  writer.crowded_ms = performance.now() + CROWDED_MS;
}

/**
 * @param {Writer} writer
 * @param {string} record
 * @param {NewEntry} given
 * @returns {Promise<Opened | null>} null: not kept, for nothing is known well enough
 */
async function quick(writer, record, given) {
  const { standing } = writer;
  const isAlone = !writer.base.older && performance.now() > writer.crowded_ms;
  const sealer = standing && isAlone && writer.keys.at(record, standing.log);
  if (!standing || !sealer) return null;
  try {
    return await keptAt(writer, record, given, standing, { ...sealer, fresh: null });
  } catch (error) {
    writer.standing = null;
    if (error instanceof PlaceTaken) return null;
    throw error;
  }
}

/**
 * @param {Writer} writer
 * @param {string} record
 * @param {NewEntry} given
 * @returns {Promise<Opened>}
 */
async function thorough(writer, record, given) {
  for (let attempt = 1; ; attempt += 1) {
    const standing = await readStanding(writer);
    const sealer = await writer.keys.sealer(record, standing.log, standing.server);
    try {
      return await keptAt(writer, record, given, standing, sealer);
    } catch (error) {
      if (!(error instanceof PlaceTaken) || attempt === ATTEMPTS) throw error;
      writer.channel.tell({ what: "crowd" });
    }
  }
}
