/** @import { Base, DataKeyRow } from "../types.js" */
/** @import { ClosedRow, PersonWrap, ServerWay } from "../types-lock.js" */
import { randomBytes } from "./bytes.js";
import { passphraseKey, sealingKey, unwrapForTablet, wrapForTablet } from "./seal.js";
import { result } from "./transaction.js";
import { fits } from "./wraps.js";

/**
 * @typedef {object} Closed How a tablet is closed.
 * @property {ClosedRow} tablet
 * @property {PersonWrap[]} people whose passphrases open it, as they were added
 * @property {ServerWay | null} server what who signs in there is given it by; null: it was not enrolled
 */

/**
 * Open the tablet's data key. Without a passphrase it lies under an empty one, made at the
 * first start; with one it is asked for, and proven to be this tablet's.
 * @param {Base} base
 * @param {() => Promise<CryptoKey | null>} ask whoever holds it just now
 * @returns {Promise<{key: CryptoKey | null, isClosed: boolean}>} key null: nobody here holds it
 */
export async function openDataKey(base, ask) {
  const standing = await base.transact(["wraps"], "readonly", tabletRow);
  const row = standing ?? (await keptFirst(base, await emptyRow()));
  if (row.how === "none") return { key: await fromEmpty(row), isClosed: false };
  const key = await ask();
  return { key: key && (await fits(key, row)) ? key : null, isClosed: true };
}

/**
 * Open what lies under the empty passphrase.
 * @param {DataKeyRow} row
 * @returns {Promise<CryptoKey>}
 */
export async function fromEmpty(row) {
  const under = await passphraseKey("", row.salt, row.rounds);
  return sealingKey(await unwrapForTablet(under, row.who, row));
}

/**
 * Read how this tablet is closed.
 * @param {Base} base
 * @returns {Promise<Closed | null>} null: it has no passphrase
 */
export function readClosed(base) {
  return base.transact(["wraps"], "readonly", async (tx) => {
    const tablet = await tabletRow(tx);
    if (tablet?.how !== "closed") return null;
    const rows = await result(tx.objectStore("wraps").getAll());
    return { tablet, people: rows.filter(({ how }) => how === "passphrase"), server: rows.find(({ how }) => how === "server") ?? null };
  });
}

/**
 * Read the row that tells how the tablet's data key lies here, within a transaction.
 * @param {IDBTransaction} tx
 * @returns {Promise<DataKeyRow | ClosedRow | undefined>}
 */
export function tabletRow(tx) {
  return result(tx.objectStore("wraps").get("tablet"));
}

/**
 * @param {Base} base
 * @param {DataKeyRow} made
 * @returns {Promise<DataKeyRow | ClosedRow>}
 */
function keptFirst(base, made) {
  return base.transact(["wraps"], "readwrite", async (tx) => {
    // Another window may have made one in between: the first one stands.
    const standing = await tabletRow(tx);
    if (!standing) tx.objectStore("wraps").put(made);
    return standing ?? made;
  });
}

/** @returns {Promise<DataKeyRow>} */
async function emptyRow() {
  const salt = randomBytes(16);
  const under = await passphraseKey("", salt, 1);
  const wrap = await wrapForTablet(under, "tablet", randomBytes(32));
  return { who: "tablet", how: "none", kdf: "PBKDF2-SHA-256", rounds: 1, salt, ...wrap };
}
