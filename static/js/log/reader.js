/** @import { Base, Keys, Reader } from "../types.js" */
/** @import { Held } from "../types-fold.js" */
import { folding } from "./fold.js";
import { counted, foldedOn } from "./folded.js";
import { nothingHeld, readOn, readWhole, setAside } from "./held.js";
import { whenIdle } from "./idle.js";
import { asideIn } from "./rows.js";
import { dropSnapshot, keepSnapshot, readSnapshot } from "./snapshots.js";

/** So many entries behind its snapshot a record is worth another. */
const WORTH = 100;

/**
 * Read records, keeping in memory what was opened once. Calls for one record run one
 * after the other, so that an entry kept while the record is read is never missed.
 * @param {Base} base
 * @param {Keys} keys
 * @param {number | Promise<number>} [catalogue] version of the fields: a snapshot of another one is dropped
 * @returns {Reader}
 */
export function openReader(base, keys, catalogue = 0) {
  /** @type {Map<string, Held>} */
  const held = new Map();
  /** @type {Map<string, Promise<unknown>>} */
  const queues = new Map();

  /**
   * @template T
   * @param {string} record
   * @param {() => Promise<T>} work
   * @returns {Promise<T>}
   */
  function inTurn(record, work) {
    const turn = (queues.get(record) ?? Promise.resolve()).then(work, work);
    queues.set(record, turn);
    return turn;
  }

  /** @param {string} record */
  async function current(record) {
    const read = held.get(record) ?? nothingHeld();
    held.set(record, read);
    if (!read.stale) return read;
    // What makes it stale from now on is read by the next call.
    read.stale = false;
    try {
      const isKnown = read.isRead || (!base.older && (await readSnapshot(base, keys, record, await catalogue, read)));
      if (isKnown) await readOn(base, keys, record, read);
      if (!read.isRead || (read.isPartial && !read.folding)) await readWhole(base, keys, record, read);
    } catch (error) {
      read.stale = true;
      throw error;
    }
    return read;
  }

  /** @param {string} record @param {Held} read */
  async function foldAll(record, read) {
    if (read.isPartial) await readWhole(base, keys, record, read);
    // It may hold what was erased, or does not count any more.
    if (read.hasSnapshot) await dropSnapshot(base, record).catch(() => {});
    Object.assign(read, { hasSnapshot: false, behind: 0, waiting: counted(read) });
    return folding(read.waiting);
  }

  /** @param {string} record @param {Held} read */
  async function picture(record, read) {
    const version = await catalogue;
    // What this page wrote itself is held, but was not read from its place yet.
    read.stale = true;
    await inTurn(record, () => current(record));
    const isFit = !base.older && !read.stale && !read.waiting.length && !read.damaged && !read.shut && read.folding;
    if (!isFit || read.behind < WORTH) return;
    Object.assign(read, { behind: 0, hasSnapshot: true });
    await keepSnapshot(base, keys, record, version, read);
    // Meanwhile something was erased that it holds.
    if (!read.hasSnapshot) await dropSnapshot(base, record);
  }

  return {
    fold: (record) =>
      inTurn(record, async () => {
        const read = await current(record);
        if (read.isUnsure) await rule(base, read);
        const next = foldedOn(read) ?? (await foldAll(record, read));
        read.behind += read.waiting.length;
        Object.assign(read, { folding: next, waiting: [] });
        // Failing to make one costs nothing but time at the next start.
        if (read.behind >= WORTH) whenIdle(() => picture(record, read).catch(() => {}));
        return next.fold;
      }),
    known: (record) =>
      inTurn(record, async () => {
        const { pulled } = await current(record);
        return new Map([...pulled].map(([id, entry]) => [id, entry !== null]));
      }),
    add: (record, entry) =>
      inTurn(record, async () => {
        const standing = held.get(record);
        if (!standing) return;
        standing.own.set(entry.id, entry);
        standing.waiting.push(entry);
      }),
    stale: (record) => {
      for (const [id, read] of held) if (!record || id === record) read.stale = true;
    },
    forget: (record) => void held.delete(record),
    ruled: () => {
      for (const read of held.values()) read.isUnsure = true;
    },
    shut: (record) => held.get(record)?.shut ?? 0,
    damaged: () => [...held.values()].reduce((sum, read) => sum + read.damaged + read.damagedOutside, 0),
  };
}

/**
 * Read again what the server says of this tablet's own entries.
 * @param {Base} base
 * @param {Held} read
 */
async function rule(base, read) {
  read.isUnsure = false;
  try {
    setAside(read, await base.transact(["rulings"], "readonly", asideIn));
  } catch (error) {
    read.isUnsure = true;
    throw error;
  }
}
