/** @import { Base, Fold, Keys, Opened, PulledEntry, Reader, Ruling } from "../types.js" */
import { result } from "./transaction.js";
import { decodeBody, decodeHeader } from "./entry.js";
import { fold } from "./fold.js";
import { openOutside, openOwn, openPacks, openPulled, readRows } from "./opened.js";
import { packUp } from "./packs.js";
import { utf8 } from "./bytes.js";

/**
 * @typedef {object} Held One record, opened.
 * @property {Map<string, Opened>} own
 * @property {Map<string, Opened | null>} pulled null: does not count, or was erased
 * @property {Fold | null} fold
 * @property {boolean} stale
 * @property {number} damaged
 */

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
    const standing = held.get(record);
    if (standing && !standing.stale) return standing;
    const read = await readRecord(base, keys, record, standing?.own ?? new Map());
    held.set(record, read);
    return read;
  }

  return {
    fold: (record) =>
      inTurn(record, async () => {
        const read = await current(record);
        read.fold ??= fold(counted(read, await uncounted(base)));
        return read.fold;
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
        standing.fold = null;
      }),
    stale: (record) => {
      for (const [id, read] of held) if (!record || id === record) Object.assign(read, { stale: true });
    },
    damaged: () => [...held.values()].reduce((sum, read) => sum + read.damaged, 0),
  };
}

/**
 * @param {Base} base
 * @param {Keys} keys
 * @param {string} record
 * @param {Map<string, Opened>} own opened before
 * @returns {Promise<Held>}
 */
async function readRecord(base, keys, record, own) {
  const rows = await readRows(base, record);
  const fresh = rows.own.filter(({ id }) => !own.has(id));
  const isFirst = own.size === 0;
  const packs = await openPacks(keys, isFirst ? rows.packs : []);
  const singles = await openOwn(keys, fresh);
  const outside = base.older ? await openOutside(keys, rows.outside, record) : [];
  const pulled = await openPulled(keys, rows.pulled);
  const opened = [...packs.flat(), ...singles, ...outside].filter(isThere);
  for (const entry of opened) own.set(entry.id, entry);
  const damaged = [...packs, ...singles, ...outside, ...pulled].filter((entry) => entry === null).length;
  // A pack stands for all up to its end, so it is made only of a whole, readable run;
  // failing to make one costs nothing but time at the next start.
  if (isFirst && !damaged && !base.older) void packUp(base, keys, record, singles.filter(isThere)).catch(() => {});
  return { own, pulled: latest(pulled.filter(isThere).flat()), fold: null, stale: false, damaged };
}

/**
 * @template T
 * @param {T | null} thing
 * @returns {thing is T}
 */
function isThere(thing) {
  return thing !== null;
}

/**
 * A ruling may be told again, later: the last one told stands. The body of an entry
 * that does not count may be anything, and is not read.
 * @param {PulledEntry[]} entries
 * @returns {Held["pulled"]}
 */
function latest(entries) {
  return new Map(
    entries.map(({ header, body, counts }) => {
      const { id, log, seq } = decodeHeader(header);
      return [id, counts === "counted" && body !== null ? { id, log, seq, body: decodeBody(utf8(body)) } : null];
    }),
  );
}

/**
 * Where another writer's entry stands under the id of one written here, the one that
 * everybody has is read.
 * @param {Held} held
 * @param {Set<string>} aside
 * @returns {Opened[]}
 */
function counted({ own, pulled }, aside) {
  return [...own.values()].filter(({ id }) => !aside.has(id) && !pulled.get(id)).concat([...pulled.values()].filter(isThere));
}

/**
 * @param {Base} base
 * @returns {Promise<Set<string>>} ids of own entries that the server set aside, or erased
 */
async function uncounted(base) {
  /** @type {Ruling[]} */
  const rulings = await base.transact(["rulings"], "readonly", (tx) => result(tx.objectStore("rulings").getAll()));
  return new Set(rulings.filter(({ counts, erased }) => counts === "set_aside" || erased).map(({ id }) => id));
}
