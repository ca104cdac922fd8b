/** @import { Base, DataKeyRow, Enrolment, KeyRow, ServerKey, Who } from "../types.js" */
/** @import { ClosedRow, PersonWrap, ServerWay } from "../types-lock.js" */
import { fromEmpty, readClosed, tabletRow } from "./data-key.js";
import { metaRow } from "./meta.js";
import { unwrapForTablet, wrapForServer, wrapForTablet } from "./seal.js";
import { serverWay } from "./server-way.js";
import { result } from "./transaction.js";
import { closedRow, fits, newDataKey, openWrap, wrapDataKey, wrapName } from "./wraps.js";

/** Only where another window writes without end is it not done after so many. */
const ATTEMPTS = 20;

/** A passphrase that was not set, and why; `say` is a key into the user's words. */
export class LockProblem extends Error {
  /** @param {"has_one" | "none_yet" | "changed" | "windows" | "not_proven"} code */
  constructor(code) {
    super(`the lock: ${code}`);
    this.name = "LockProblem";
    this.code = code;
    this.say = `lock.${code}`;
  }
}

/**
 * Set the tablet's first passphrase. What lay under the empty passphrase stays in the
 * browser's files until they are written anew, so the data key is a new one: every record
 * key is wrapped under it, in the transaction in which the empty row goes. Record keys that
 * the server could not open yet are wrapped for it too, for a locked tablet sends.
 * @param {Base} base
 * @param {Who} person
 * @param {string} passphrase
 * @returns {Promise<CryptoKey>} the data key, opened by this passphrase
 * @throws {LockProblem} when it has one already, or what was written does not open
 */
export async function setFirst(base, person, passphrase) {
  const made = await newDataKey();
  const [wrap, closed] = [await wrapDataKey(made, person, passphrase), await closedRow(made)];
  const key = await proven(wrap, closed, passphrase);
  for (let attempt = 0; attempt < ATTEMPTS; attempt += 1) {
    const before = await readKeys(base);
    if (before.tablet?.how !== "none") throw new LockProblem("has_one");
    const old = await fromEmpty(before.tablet);
    const { enrolment } = before;
    const rows = await Promise.all(before.rows.map((row) => rewrapped(row, old, key, enrolment?.server_key ?? null)));
    const ways = enrolment ? [await serverWay(made, enrolment)] : [];
    if (await replaced(base, before, rows, [closed, wrap, ...ways])) return key;
  }
  throw new LockProblem("changed");
}

/**
 * Wrap the data key under another passphrase, of the same person or of one more.
 * @param {Base} base
 * @param {Who} by whose passphrase opens it now
 * @param {string} passphrase of theirs
 * @param {Who} person
 * @param {string} next
 * @returns {Promise<void>}
 * @throws {LockProblem | import("./wraps.js").WrongPassphrase}
 */
export async function setAnother(base, by, passphrase, person, next) {
  const closed = await readClosed(base);
  const row = closed?.people.find(({ who }) => who === wrapName(by));
  if (!closed || !row) throw new LockProblem("none_yet");
  const dataKey = await openWrap(row, passphrase, true);
  const wrap = await wrapDataKey(dataKey, person, next);
  await proven(wrap, closed.tablet, next);
  const { enrolment } = await readKeys(base);
  const way = enrolment ? await serverWay(dataKey, enrolment) : null;
  await base.transact(["wraps"], "readwrite", async (tx) => {
    const standing = await result(tx.objectStore("wraps").get(row.who));
    if (!standing || !isSame(standing, row)) throw new LockProblem("changed");
    tx.objectStore("wraps").put(wrap);
    if (way) tx.objectStore("wraps").put(way);
  });
}

/**
 * A wrap that does not open must never be the only one.
 * @param {PersonWrap} wrap
 * @param {ClosedRow} closed
 * @param {string} passphrase
 * @returns {Promise<CryptoKey>}
 */
async function proven(wrap, closed, passphrase) {
  const key = await openWrap(wrap, passphrase);
  if (!(await fits(key, closed))) throw new LockProblem("not_proven");
  return key;
}

/**
 * @typedef {{tablet: DataKeyRow | ClosedRow | undefined, rows: KeyRow[], enrolment: Enrolment | null}} Lying
 * @param {Base} base
 * @returns {Promise<Lying>}
 */
function readKeys(base) {
  return base.transact(["wraps", "keys", "meta"], "readonly", async (tx) => ({
    tablet: await tabletRow(tx),
    rows: await result(tx.objectStore("keys").getAll()),
    enrolment: (await metaRow(tx, "enrolment")) ?? null,
  }));
}

/**
 * @param {KeyRow} row
 * @param {CryptoKey} old
 * @param {CryptoKey} next
 * @param {ServerKey | null} server
 * @returns {Promise<KeyRow>} one that does not open stays as it is
 */
async function rewrapped(row, old, next, server) {
  const raw = row.wrap_tablet && (await unwrapForTablet(old, row.key, row.wrap_tablet).catch(() => null));
  if (!raw) return row;
  const { key, record, log } = row;
  const isWanted = server && row.wrap_server?.server_key !== server.id;
  const wrap_server = isWanted ? await wrapForServer({ key, record, log }, raw, server) : row.wrap_server;
  return { ...row, wrap_server, wrap_tablet: await wrapForTablet(next, key, raw) };
}

/**
 * @param {Base} base
 * @param {Lying} before
 * @param {KeyRow[]} rows
 * @param {(ClosedRow | PersonWrap | ServerWay)[]} wraps
 * @returns {Promise<boolean>} false: a key came or changed meanwhile, and nothing was written
 */
function replaced(base, before, rows, wraps) {
  return base.transact(["wraps", "keys"], "readwrite", async (tx) => {
    const [tablet, now] = [await tabletRow(tx), await result(tx.objectStore("keys").getAll())];
    if (tablet?.how !== "none") throw new LockProblem("has_one");
    if (!isSame(now, before.rows)) return false;
    for (const row of rows) tx.objectStore("keys").put(row);
    for (const row of wraps) tx.objectStore("wraps").put(row);
    return true;
  });
}

/** @param {unknown} one @param {unknown} other rows of the database, bytes in them */
function isSame(one, other) {
  return JSON.stringify(one) === JSON.stringify(other);
}
