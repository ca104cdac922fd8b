/** @import { Base, Json, KeyRow, Keys } from "../types.js" */
/** @import { SyncReply } from "../types-sync.js" */
/** @import { SiteHours, Stay, TakenAway } from "../types-stay.js" */
import { shutIn } from "./by-code.js";
import { casesInUse } from "./in-use.js";
import { underLock } from "./lock.js";
import { NEVER_SYNCED, metaRow, putMeta } from "./meta.js";
import { onlyHere } from "./only-here.js";
import { STORES, removeAll, sealAway } from "./removal.js";
import { nextAct, stayAfter } from "./stay.js";
import { result } from "./transaction.js";
import { madeMs } from "./uuid.js";

/**
 * After a contact, take away the records whose time on this tablet is over by the server's
 * clock, as told in this reply. Never what is only here, nor an open case; and nothing
 * while the server is behind what this tablet knows.
 * @param {{base: Base, keys: Keys, lock: string}} shelf
 * @param {SyncReply} reply already taken in
 * @param {Iterable<string>} touched records that were sent or given in this contact
 * @returns {Promise<{gone: string[], again: boolean}>} gone: those that cannot be read here any more;
 *   again: one of them was asked for, and can be given now
 */
export function takeAway({ base, keys, lock }, reply, touched) {
  return underLock(lock, async () => {
    const inUse = await casesInUse(lock);
    const isTouched = new Set([...touched, ...inUse]);
    return base.transact(STORES, "readwrite", (tx) => takeAwayIn(tx, reply, inUse, isTouched, keys.isLocked));
  });
}

/**
 * @param {IDBTransaction} tx
 * @param {SyncReply} reply
 * @param {Set<string>} inUse
 * @param {Set<string>} touched
 * @param {boolean} isLocked what is not to be read now may be read by whoever unlocks it
 */
async function takeAwayIn(tx, reply, inUse, touched, isLocked) {
  const [sync = NEVER_SYNCED, log, asked, row] = await Promise.all([metaRow(tx, "sync"), metaRow(tx, "log"), metaRow(tx, "asked"), metaRow(tx, "stays")]);
  const [site, now_ms, before] = [hoursOf(reply.settings), Date.parse(reply.server_time), row?.of ?? {}];
  const none = { gone: [], again: false };
  const isBehind = sync.went_back || (sync.tell ?? null) !== null;
  if (!site || !log || isBehind) return none;
  /** @type {KeyRow[]} */
  const keys = await result(tx.objectStore("keys").getAll());
  const shut = isLocked ? new Set() : await shutIn(tx);
  const [here, isAsked] = [new Set(keys.map(({ record }) => record)), new Set(asked?.records ?? [])];
  const records = [...new Set([...here, ...Object.keys(before)])];
  const stays = new Map(records.map((record) => [record, stayAfter(before[record], now_ms, { isTouched: touched.has(record), isHere: here.has(record) })]));
  const isRevoked = reply.revoked === true;
  const facts = (/** @type {string} */ record) => ({ now_ms, site, isRevoked, isOpen: inUse.has(record), isAsked: isAsked.has(record), isShut: shut.has(record) });
  // Most contacts find nothing due, and need not look at what lies here.
  const due = [...stays].filter(([record, stay]) => isDue(stay, facts(record))).map(([record]) => record);
  const left = due.length ? await onlyHere(tx, log, sync) : { records: new Set(), aside: new Set(), unsealable: new Set() };
  const [gone, again] = [/** @type {string[]} */ ([]), /** @type {string[]} */ ([])];
  for (const record of due) {
    const stay = /** @type {Stay} */ (stays.get(record));
    const act = nextAct(stay, { ...facts(record), isOnlyHere: left.records.has(record), isAside: left.aside.has(record), isSealable: !left.unsealable.has(record) });
    if (act === "forget") stays.delete(record);
    if (act === "seal") await sealAway(tx, record);
    if (act === "remove") await removeAll(tx, record);
    if (act === "seal") stays.set(record, { ...stay, sealed_ms: now_ms });
    if (act === "remove") stays.set(record, { ...stay, removed_ms: now_ms });
    if (act === "seal" || act === "remove") gone.push(record);
    if (act === "remove" && (stay.sealed_ms !== null || shut.has(record)) && isAsked.has(record)) again.push(record);
  }
  if (again.length) putMeta(tx, "asked", { records: [...((await metaRow(tx, "asked"))?.records ?? []), ...again] });
  const of = Object.fromEntries(stays);
  if (JSON.stringify(of) !== JSON.stringify(before)) putMeta(tx, "stays", { of });
  return { gone, again: again.length > 0 };
}

/**
 * Tell which cases cannot be read on this tablet, or not whole: those that were taken off it,
 * and those begun without unlocking whose key is gone. The latest first.
 * @param {{base: Base, keys: Keys}} shelf
 * @returns {Promise<TakenAway[]>}
 */
export function takenAway({ base, keys }) {
  // Whoever has not unlocked is told of no other case.
  if (keys.isLocked) return Promise.resolve([]);
  return base.transact(STORES, "readonly", async (tx) => {
    const [log, sync = NEVER_SYNCED, row, asked] = await Promise.all([metaRow(tx, "log"), metaRow(tx, "sync"), metaRow(tx, "stays"), metaRow(tx, "asked")]);
    const gone = Object.entries(row?.of ?? {}).filter(([, stay]) => stay.sealed_ms !== null || stay.removed_ms !== null);
    const shut = await shutIn(tx);
    const records = [...new Set([...gone.map(([record]) => record), ...shut])].sort().reverse();
    const left = log && records.length ? (await onlyHere(tx, log, sync)).records : new Set();
    const removed = new Set(gone.filter(([, { removed_ms }]) => removed_ms !== null).map(([record]) => record));
    return records.map((record) => ({
      record,
      begun_ms: madeMs(record),
      isOnServer: removed.has(record) || !left.has(record),
      isByCode: shut.has(record),
      isAsked: asked?.records.includes(record) ?? false,
    }));
  });
}

/** @param {Stay} stay @param {Omit<import("./stay.js").Facts, "isOnlyHere" | "isAside" | "isSealable">} facts */
function isDue(stay, facts) {
  return [true, false].some((isOnlyHere) => nextAct(stay, { ...facts, isOnlyHere, isAside: false, isSealable: true }) !== "stay");
}

/** @param {{[name: string]: Json} | undefined} told an older server tells none @returns {SiteHours | null} */
function hoursOf(told) {
  const [keep_readable_h, keep_bytes_d, running_case_h] = [told?.keep_readable_h, told?.keep_bytes_d, told?.running_case_h];
  const isTold = [keep_readable_h, keep_bytes_d, running_case_h].every((n) => typeof n === "number" && n > 0);
  return isTold ? /** @type {SiteHours} */ ({ keep_readable_h, keep_bytes_d, running_case_h }) : null;
}
