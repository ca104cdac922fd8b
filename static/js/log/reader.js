/** @import { Base, Keys, Opened, Reader } from "../types.js" */
/** @import { Held } from "../types-fold.js" */
import { folding } from "./fold.js";
import { foldOn } from "./fold-on.js";
import { nothingHeld, readFirst, readOn, setAside } from "./held.js";
import { asideIn } from "./rows.js";

/**
 * Read records, keeping in memory what was opened once. Calls for one record run one
 * after the other, so that an entry kept while the record is read is never missed.
 * @param {Base} base
 * @param {Keys} keys
 * @returns {Reader}
 */
export function openReader(base, keys) {
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
      await (read.isRead ? readOn : readFirst)(base, keys, record, read);
    } catch (error) {
      read.stale = true;
      throw error;
    }
    return read;
  }

  return {
    fold: (record) =>
      inTurn(record, async () => {
        const read = await current(record);
        if (read.isUnsure) await rule(base, read);
        const { fold } = (read.folding = foldedOn(read) ?? folding(counted(read)));
        read.waiting = [];
        return fold;
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
    ruled: () => {
      for (const read of held.values()) read.isUnsure = true;
    },
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

/**
 * Fold what came since onto what was folded.
 * @param {Held} read
 * @returns {Held["folding"]} null: fold all of it
 */
function foldedOn({ folding: before, waiting, aside, pulled }) {
  let next = before;
  for (const entry of waiting) {
    if (!next || aside.has(entry.id)) return null;
    // What was pulled meanwhile in its place is the one that counts.
    if (pulled.get(entry.id) && pulled.get(entry.id) !== entry) return null;
    next = foldOn(next, entry);
  }
  return next;
}

/**
 * Where another writer's entry stands under the id of one written here, the one that
 * everybody has is read.
 * @param {Held} held
 * @returns {Opened[]}
 */
function counted({ own, pulled, aside }) {
  const others = [...pulled.values()].filter((entry) => entry !== null);
  return [...own.values()].filter(({ id }) => !aside.has(id) && !pulled.get(id)).concat(others);
}
