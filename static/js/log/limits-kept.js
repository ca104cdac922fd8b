/** @import { Base, JsonObject, MetaRows } from "../types.js" */
/** @import { SyncReply } from "../types-sync.js" */
import { metaRow, putMeta, readMeta } from "./meta.js";

/** @typedef {MetaRows["limits"]} KeptLimits */

/**
 * Before any were kept.
 * @type {KeptLimits}
 */
const NONE = { of: {}, rows: {}, in_use: null };

/**
 * @typedef {object} Limits Which limits each record on this tablet is read by.
 * @property {(record: string, form: JsonObject) => Promise<void>} begin keep those in use, told last by the
 *   server or else the form's, as the ones a record begins with; later it changes nothing
 * @property {(record: string) => Promise<JsonObject | null>} of those a record began with; null: not told yet
 * @property {() => void} stale what was read may have changed
 */

/**
 * Keep limits with the log: a running case goes on by its own, whatever the form brings.
 * @param {Base} base
 * @returns {Limits}
 */
export function openLimits(base) {
  /** @type {Promise<KeptLimits> | null} */
  let reading = null;
  const stale = () => void (reading = null);

  /** @returns {Promise<KeptLimits>} */
  function read() {
    reading ??= readMeta(base, "limits").then((row) => row ?? NONE).catch(() => (stale(), NONE));
    return reading;
  }

  return {
    stale,
    of: async (record) => {
      const { of, rows } = await read();
      return rows[of[record] ?? ""] ?? null;
    },
    begin: async (record, form) => {
      if (base.older) return;
      await base.transact(["meta"], "readwrite", async (tx) => {
        const before = (await metaRow(tx, "limits")) ?? NONE;
        if (before.of[record]) return;
        const begun = rowIn(before, before.in_use) ?? form;
        putMeta(tx, "limits", withRows({ ...before, of: { ...before.of, [record]: digestOf(begun) } }, [begun]));
      });
      stale();
    },
  };
}

/**
 * Keep what the server told of limits, in the transaction of the entries it gave: its word
 * on a record stands, for it is the desk's and the note's too.
 * @param {IDBTransaction} tx
 * @param {SyncReply} reply
 */
export async function keepLimits(tx, { limits }) {
  if (!limits) return;
  const before = (await metaRow(tx, "limits")) ?? NONE;
  const given = withRows(before, limits.given);
  const isHeld = (/** @type {string | null} */ name) => rowIn(given, name) !== null;
  const of = Object.fromEntries(Object.entries(limits.of).filter(([, name]) => isHeld(name)));
  const in_use = isHeld(limits.in_use) ? limits.in_use : before.in_use;
  const isNew = limits.given.length > 0 || in_use !== before.in_use || Object.entries(of).some(([record, name]) => before.of[record] !== name);
  if (isNew) putMeta(tx, "limits", needed({ ...given, of: { ...before.of, ...of }, in_use }));
}

/**
 * @param {KeptLimits} kept
 * @param {JsonObject[]} more
 * @returns {KeptLimits}
 */
function withRows(kept, more) {
  return { ...kept, rows: { ...kept.rows, ...Object.fromEntries(more.map((row) => [digestOf(row), row])) } };
}

/**
 * Leave out limits that no record here and no new one is read by.
 * @param {KeptLimits} kept
 * @returns {KeptLimits}
 */
function needed(kept) {
  const names = new Set([...Object.values(kept.of), kept.in_use]);
  return { ...kept, rows: Object.fromEntries(Object.entries(kept.rows).filter(([name]) => names.has(name))) };
}

/** @param {KeptLimits} kept @param {string | null} name @returns {JsonObject | null} */
function rowIn({ rows }, name) {
  return rows[name ?? ""] ?? null;
}

/** @param {JsonObject} policy @returns {string} its name; "" from a server that named none */
function digestOf({ digest }) {
  return typeof digest === "string" ? digest : "";
}
