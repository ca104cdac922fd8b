/** @import { Bytes, Enrolment, EntryRow, Json, JsonObject, KeyRow, Person, PhotoRow, PulledEntry, PulledRow, Reach, Ruling, ServerKey, Wrap } from "./types.js" */
/** @import { LockSettings } from "./types-lock.js" */

/**
 * Shapes of what passes between tablet and server; no code.
 *
 * @typedef {object} Batch One request of sync, before it is sent.
 * @property {SyncHead} head
 * @property {Bytes[]} sealed
 * @property {EntryRow[]} rows
 * @property {boolean} more entries wait beyond this batch
 * @property {number | null} tell how many headers of others will have been told after it; null: all
 *
 * @typedef {object} Wish What the next request may hold.
 * @property {number} catalogue version
 * @property {number} limit entries
 * @property {Set<string>} passed ids left out for now
 * @property {Set<string>} late ids that go once nothing else waits
 * @property {boolean} [isFirst] the first one since the page opened
 *
 * @typedef {object} SyncHead
 * @property {1} v
 * @property {number} catalogue
 * @property {string} now
 * @property {{log: string, tip: number}[]} logs
 * @property {Wrap[]} wraps
 * @property {{header: string, sealed: number}[]} entries
 * @property {{record: string, since: number, tips: {log: string, seq: number}[], holds?: string[], limits?: string}[]} open
 * @property {string[]} limits names of those held
 * @property {{position: number, chain: string} | null} head
 * @property {boolean} pull_all
 *
 * @typedef {object} SyncReply
 * @property {true} ok
 * @property {string} server_time
 * @property {Ruling[]} answers
 * @property {{log: string, held: number}[]} logs
 * @property {{position: number, chain: string}} head
 * @property {boolean | null} head_known
 * @property {boolean} went_back
 * @property {{record: string, entries: PulledEntry[], upto: number, more: boolean}[]} pull
 * @property {Person[]} people
 * @property {ServerKey} server_key
 * @property {LockSettings & {[name: string]: Json}} [settings] what every tablet is to keep to; an older server tells none
 * @property {{of: {[record: string]: string}, in_use: string | null, given: JsonObject[]}} [limits] an older server tells none
 * @property {number} [lost] entries of others that it knows it lost
 * @property {boolean} [revoked] nothing this tablet sends counts any more
 *
 * @typedef {object} Wire What sync does with the log.
 * @property {(wish: Wish) => Promise<Batch | null>} gather
 * @property {(sent: Batch, reply: SyncReply, times: {sent_ms: number, got_ms: number}) => Promise<{more: boolean}>} takeIn
 * @property {(reach: Reach, error: string | null) => Promise<void>} fail
 * @property {(id: string, because: string) => Promise<void>} refuse keep an entry back that no request can carry
 * @property {(enrolment: Enrolment, people: Person[], settings?: LockSettings) => Promise<void>} enrol
 * @property {PhotoQueue} photos
 * @property {() => Promise<string | null>} token
 *
 * @typedef {object} PhotoToSend
 * @property {PhotoRow} row
 * @property {KeyRow | null} key wrapped for the server
 * @property {string | null} problem key of why it cannot be sent
 *
 * @typedef {object} PhotoQueue
 * @property {(passed: Set<string>) => Promise<PhotoToSend | null>} next
 * @property {() => Promise<string[]>} names of all photos that are held here, sent or not
 * @property {(sealed: string) => Promise<void>} settle the server answered for it
 * @property {(sealed: string, because: string) => Promise<void>} refuse it was not taken, and stays
 * @property {(asked: string[], answer: PhotosHeld) => Promise<void>} compare
 *
 * @typedef {{lacks: string[], erased: string[], most_bytes: number, too_large: string}} PhotosHeld
 * @typedef {{sealed: string, answer: "kept" | "had" | "erased", because: string | null}} PhotoAnswer
 *
 * @typedef {{ruling: Ruling, log: string, seq: number}} Ruled a ruling and the place of its entry
 *
 * @typedef {object} Sorted What the server gave, parted and sealed again.
 * @property {PulledRow[]} rows
 * @property {KeyRow[]} keys
 * @property {Ruled[]} own rulings on this tablet's entries
 * @property {string[]} changed records
 */

/**
 * What came of asking our server something.
 * @template T
 * @typedef {{kind: "reply", json: T} | {kind: "unreachable", because: string} | {kind: "not_ours"} |
 *   {kind: "refused", status: number, error: string, after_s: number | null, json: any}} Outcome any: not our shape, perhaps
 */
export {};
