/** @import { Base, Enrolment, EntryRow, KeyRow, Keys, MetaRows, Ruling, SyncState, Wrap } from "../types.js" */
/** @import { Batch, SyncHead, Wish } from "../types-sync.js" */
import { result } from "./transaction.js";
import { headersHeld } from "./holds.js";
import { NEVER_SYNCED, metaRow } from "./meta.js";
import { keyOf, sendable, wrapsFor } from "./outgoing-wraps.js";
import { sealedIn } from "./sealed.js";
import { unsentRows } from "./unsent.js";

/** A locked tablet is given nothing: whatever a server holds lies before this position. */
const NO_PULL = Number.MAX_SAFE_INTEGER;
/** The server takes 4 MiB a request; the rest is room for the head. */
const LARGEST_BATCH = 3.5 * 1024 * 1024;

/**
 * Gather the next request: what the server does not hold yet, from its own contiguous
 * seq on, and what each record readable here was pulled up to. Once nothing else waits, what was
 * refused is offered again: what stood in its way may be gone. Does not write.
 * @param {Base} base
 * @param {Keys} keys
 * @param {Wish & {now: number}} wish
 * @returns {Promise<Batch | null>} null: this tablet is not enrolled
 */
export async function gather(base, keys, { now, catalogue, limit, passed, late, isFirst = false }) {
  const state = await readState(base, isFirst);
  if (!state.enrolment) return null;
  const offered = await sendable(keys, state.unsent.filter(({ id }) => !passed.has(id)), state.enrolment);
  const waiting = offered.filter((row) => mayPassNow(row, state.rulings.get(row.id)));
  const fresh = waiting.filter(({ id }) => !state.rulings.has(id) && !late.has(id));
  const open = fresh.length ? fresh : waiting;
  const holds = await headersHeld(base, keys, state.records, state.sync.tell ?? null);
  const wraps = await wrapsFor(keys, open.slice(0, limit), state.enrolment);
  const rows = withinSize(open.slice(0, limit).filter((row) => wraps.has(keyOf(row))), LARGEST_BATCH - holds.bytes);
  // A server that could not open an entry may, with its key wrapped anew.
  const anew = await wrapsFor(keys, state.aside, state.enrolment);
  const needed = new Map([...rows.map(keyOf)].map((key) => [key, wraps.get(key)]));
  /** @type {SyncHead} */
  const head = {
    v: 1,
    catalogue,
    now: new Date(now).toISOString(),
    logs: Object.entries(state.log.tips).map(([log, tip]) => ({ log, tip })),
    wraps: /** @type {Wrap[]} */ ([...new Map([...anew, ...needed]).values()]),
    entries: rows.map(({ header, sealed }) => ({ header, sealed: sealed.length })),
    open: [...state.records].map((record) => ({
      record,
      since: keys.isLocked ? NO_PULL : (state.since.of[record] ?? 0),
      tips: undelivered(state.unsent, record),
      ...(holds.of.has(record) ? { holds: holds.of.get(record) } : {}),
      ...(state.limits.of[record] ? { limits: state.limits.of[record] } : {}),
    })),
    limits: Object.keys(state.limits.rows),
    head: state.sync.head,
    pull_all: false,
  };
  const more = rows.length > 0 && rows.length < waiting.length;
  return { head, rows, sealed: rows.map((row) => row.sealed), more, tell: holds.next };
}

/**
 * @param {Base} base
 * @param {boolean} isFirst
 * @returns {Promise<{
 *   sync: SyncState, log: MetaRows["log"], enrolment: Enrolment | undefined, since: MetaRows["since"], limits: Pick<MetaRows["limits"], "of" | "rows">,
 *   rulings: Map<string, Ruling>, records: Set<string>, unsent: EntryRow[], aside: EntryRow[]}>}
 */
function readState(base, isFirst) {
  const stores = ["meta", "entries", "keys", "rulings"];
  return base.transact(stores, "readonly", async (tx) => {
    /** @type {SyncState} */
    const sync = (await metaRow(tx, "sync")) ?? NEVER_SYNCED;
    const log = /** @type {MetaRows["log"]} */ (await metaRow(tx, "log"));
    /** @type {KeyRow[]} */
    const known = await result(tx.objectStore("keys").getAll());
    const asked = (await metaRow(tx, "asked"))?.records ?? [];
    const sealed = await sealedIn(tx);
    /** @type {Ruling[]} */
    const rulings = await result(tx.objectStore("rulings").getAll());
    const byId = tx.objectStore("entries").index("id");
    const aside = rulings.filter(({ counts }) => isFirst && counts === "set_aside").map(({ id }) => result(byId.get(id)));
    return {
      sync,
      log,
      enrolment: await metaRow(tx, "enrolment"),
      since: (await metaRow(tx, "since")) ?? { of: {} },
      limits: (await metaRow(tx, "limits")) ?? { of: {}, rows: {} },
      rulings: new Map(rulings.map((ruling) => [ruling.id, ruling])),
      records: new Set([...known.map(({ record }) => record), ...asked].filter((record) => !sealed.has(record))),
      unsent: await unsentRows(tx, log, sync),
      aside: (await Promise.all(aside)).filter(Boolean),
    };
  });
}

/**
 * Tell whether an entry that was not taken is offered again. One whose place was taken
 * is given a place of its own first.
 * @param {EntryRow} row
 * @param {Ruling | undefined} ruling
 * @returns {boolean}
 */
function mayPassNow(row, ruling) {
  return !ruling || ruling.answer === "refused" || (ruling.answer === "conflict" && row.moved === true);
}

/**
 * @param {EntryRow[]} rows
 * @param {number} room bytes
 * @returns {EntryRow[]} the first of them that fit into one request, at least one
 */
function withinSize(rows, room) {
  let size = 0;
  return rows.filter(({ header, sealed }, n) => {
    size += header.length + sealed.length;
    return n === 0 || size <= room;
  });
}

/**
 * @param {EntryRow[]} unsent
 * @param {string} record
 * @returns {{log: string, seq: number}[]}
 */
function undelivered(unsent, record) {
  /** @type {Map<string, number>} */
  const tips = new Map();
  for (const row of unsent) if (row.record === record) tips.set(row.log, Math.max(tips.get(row.log) ?? 0, row.seq));
  return [...tips].map(([log, seq]) => ({ log, seq }));
}
