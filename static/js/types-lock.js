/** @import { Bytes, TabletWrap, Who, Wrap } from "./types.js" */
/** @import { OpenCase } from "./sw-codes.js" */

/**
 * Shapes of the lock; no code. The row of a tablet without a passphrase is in types.js.
 *
 * @typedef {{who: "tablet", how: "closed", kdf: string, rounds: number, salt: Bytes} & TabletWrap} ClosedRow no passphrase opens
 *   it: bytes sealed under the data key, by which a key is proven
 * @typedef {{who: string, person: Who, how: "passphrase", kdf: "PBKDF2-SHA-256", rounds: number, salt: Bytes} & TabletWrap} PersonWrap
 *
 * @typedef {{who: "server", how: "server", wrap: Wrap}} ServerWay the data key, wrapped for the server
 *
 * @typedef {object} CaseKeys Cases that are open without unlocking, and who holds their keys.
 * @property {() => Promise<OpenCase[]>} look
 * @property {(record: string) => Promise<string | null>} begin returns the case's code
 * @property {(record: string, key: {id: string, log: string, raw: Bytes, key: CryptoKey}) => Promise<boolean>} keep false: the case is not open any more
 * @property {(open: OpenCase[]) => Promise<unknown>} restore give back what the browser took away with the worker
 *
 * @typedef {object} ByCode
 * @property {() => Promise<CaseKeys | null>} enter null: nobody works without having unlocked
 * @property {() => Promise<{id: string, raw: Bytes}[]>} toAdopt all keys, once the tablet is unlocked
 * @property {(ids: string[]) => Promise<unknown>} adopted they lie under the tablet's own key now
 *
 * @typedef {object} LockSettings
 * @property {number} lock_after_idle_min
 * @property {number} lock_after_idle_running_min while a case runs
 * @property {boolean} [lock_shows_numbers] of a running case, without a name; an older server does not tell
 */

export {};
