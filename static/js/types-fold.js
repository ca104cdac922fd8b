/** @import { Bytes, Fold, Json, Opened } from "./types.js" */

/**
 * Shapes of folding; no code.
 *
 * @typedef {{sets: Opened[], adds: Opened[], strikes: Opened[]}} OfPath the entries of one path, in order
 *
 * @typedef {object} Folding A fold, and what is needed to fold one more entry onto it.
 * @property {Fold} fold
 * @property {Map<string, Opened>} unique by id, without erased ones
 * @property {Map<string, Opened>} erasures id of an erased entry to what tells of it
 * @property {Opened[]} shells what is left of erased ones
 * @property {Map<string, number>} times id to Unix milliseconds
 * @property {Map<string, OfPath>} paths
 * @property {Set<string>} gone ids that erased entries had seen
 * @property {Map<string, {seq: number, ms: number}>} ends each log's last place, and its time
 *
 * @typedef {object} Held One record, opened.
 * @property {Map<string, Opened>} own
 * @property {Map<string, Opened | null>} pulled null: does not count, or was erased
 * @property {Set<string>} aside ids of own entries, of any record, that the server set aside or erased
 * @property {import("./log/rows.js").Place} upto up to where it was read
 * @property {Folding | null} folding null: fold all of it
 * @property {Opened[]} waiting opened and not folded yet
 * @property {boolean} isRead
 * @property {boolean} isPartial from a snapshot: what did not count when it was made is not here
 * @property {boolean} hasSnapshot there is one on the disk
 * @property {number} behind how many entries were folded since it was made
 * @property {boolean} stale read on before the next answer
 * @property {boolean} isUnsure the server may have ruled otherwise since
 * @property {number} shut entries whose key is not here
 * @property {number} damaged
 * @property {number} damagedOutside of those in the outbox
 *
 * @typedef {object} Pictured What a snapshot holds.
 * @property {string[]} aside ids of own entries that did not count
 * @property {string[]} none ids of pulled entries that did not count
 * @property {Json[]} words what many entries say alike
 * @property {Json[][]} rows one for each entry that counts, in order
 *
 * @typedef {object} SnapshotRow In the store `meta`.
 * @property {string[]} name "snapshot" and the record
 * @property {{record: string, version: number, fold: number, catalogue: number, upto: import("./log/rows.js").Place, counts: number[]}} about
 * @property {string} key
 * @property {Bytes} sealed JSON of Pictured
 */

export {};
