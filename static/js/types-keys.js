/** @import { KeyRow, ServerKey, TabletWrap } from "./types.js" */

/**
 * Shapes of the keys of records on a tablet; no code.
 *
 * @typedef {object} Sealer A record's key on this tablet.
 * @property {string} id
 * @property {CryptoKey} key
 * @property {KeyRow | null} fresh the row to write with its first use; null once it stands
 *
 * @typedef {object} Keys
 * @property {boolean} isLocked true: nothing lies under the tablet's own key, and none is pulled
 * @property {boolean} isByCode cases are begun without unlocking
 * @property {(record: string) => Promise<string>} begin a case; returns its code of four digits
 * @property {(record: string) => string | null} codeOf the code that opens it again after a lock
 * @property {(record: string) => boolean} isHere it may be shown here
 * @property {() => import("./sw-codes.js").OpenCase[]} open the cases that are open by code on this page
 * @property {(id: string) => Promise<boolean>} isShut the key is known, and not to be opened here
 * @property {(record: string, log: string, server: ServerKey | null) => Promise<Sealer>} sealer
 *   the record's key for this log, made if there is none
 * @property {(record: string, log: string) => {id: string, key: CryptoKey} | null} at the record's key for this log, when it is in memory already
 * @property {(record: string) => {id: string, key: CryptoKey} | null} ready a key of the record that is in memory already
 * @property {(record: string) => Promise<void>} warm bring one into memory, if there is any
 * @property {(id: string, carried?: TabletWrap | null) => Promise<CryptoKey | null>} opener
 *   null: no such key, or not readable here; `carried`: a wrap that came with the entry
 * @property {(record: string) => void} forget let go of its keys in memory: it cannot be read here any more
 * @property {(id: string, server: ServerKey) => Promise<KeyRow | null>} wrapped the row, wrapped for the server
 */

export {};
