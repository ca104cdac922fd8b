/**
 * Shapes shared by the tablet's modules; no code. Moments are Unix milliseconds
 * where a name ends in `_ms`, ISO 8601 UTC text where it is `utc`.
 *
 * @typedef {{person: string | null, name: string, role: string}} Who
 *
 * @typedef {"set" | "add" | "strike"} Op
 * @typedef {"seen" | "told" | "device" | "copied"} Source
 * @typedef {"passphrase" | "pin" | "typed" | "none" | "password"} How
 *
 * @typedef {null | boolean | number | string | JsonList | JsonObject} Json
 * @typedef {Json[]} JsonList
 * @typedef {{[key: string]: Json}} JsonObject
 *
 * @typedef {object} At When an entry was made, by the writer's own clock.
 * @property {string} utc
 * @property {string} zone IANA name
 * @property {number} offset_min
 * @property {number | null} skew_ms this clock minus the server's; null: never compared
 *
 * @typedef {object} Body
 * @property {string} path
 * @property {Op} op
 * @property {Json} value
 * @property {string[]} seen ids of the same record and path
 * @property {At} at
 * @property {Who} author
 * @property {Who} entered_by
 * @property {Who | null} called_by
 * @property {Source} source
 * @property {How} how
 * @property {string} salt 32 hex digits
 *
 * @typedef {object} Header
 * @property {string} v
 * @property {string} id
 * @property {string} record
 * @property {string} log
 * @property {number} seq
 * @property {string} key
 *
 * @typedef {object} NewEntry What a screen hands in; the rest is filled in.
 * @property {string} path
 * @property {Op} [op]
 * @property {Json} value
 * @property {Who} author
 * @property {string[]} [seen]
 * @property {Who} [entered_by]
 * @property {Who | null} [called_by]
 * @property {Source} [source]
 * @property {How} [how]
 * @property {string | true} [clears] path of the draft that this entry replaces
 *
 * @typedef {{id: string, log: string, seq: number, body: Body}} Opened
 *
 * @typedef {{value: Json, entries: string[]}} Answer
 * @typedef {{by: string, reason: Json}} Struck
 * @typedef {{id: string, value: Json, struck: Struck | null}} Row
 * @typedef {object} Meta
 * @property {string} log
 * @property {number} seq
 * @property {Op} op
 * @property {string} path
 * @property {At} at
 * @property {Who} author
 * @property {Who} entered_by
 * @property {Who | null} called_by
 * @property {Source} source
 * @property {How} how
 * @property {number} time_ms corrected, never running backwards within a log
 *
 * @typedef {object} Fold
 * @property {{[path: string]: Answer[]}} values more than one: two answers
 * @property {{[path: string]: Row[]}} rows struck ones stay, marked
 * @property {{[id: string]: Meta}} entries
 * @property {string[]} order every id, in time
 *
 * @typedef {{id: string, spki: string}} ServerKey spki: base64 DER
 *
 * @typedef {object} Wrap A record key, wrapped for the server. base64.
 * @property {string} key
 * @property {string} record
 * @property {string} log
 * @property {string} server_key
 * @property {string} epk
 * @property {string} nonce
 * @property {string} wrapped
 *
 * @typedef {{nonce: Bytes, wrapped: Bytes}} TabletWrap
 * @typedef {Uint8Array<ArrayBuffer>} Bytes
 *
 * @typedef {{who: "tablet", how: "none", kdf: string, rounds: number, salt: Bytes} & TabletWrap} DataKeyRow
 *
 * @typedef {object} KeyRow
 * @property {string} key
 * @property {string} record
 * @property {string} log
 * @property {Wrap | null} wrap_server null until a server key is known
 * @property {TabletWrap | null} wrap_tablet null: what lies under it cannot be read here, or by a code only
 * @property {boolean} [by_code] the case was begun without unlocking, and is not over
 *
 * @typedef {object} EntryRow
 * @property {string} id
 * @property {string} record
 * @property {string} log
 * @property {number} seq
 * @property {string} header
 * @property {Bytes} sealed
 * @property {string} [digest] of the entry; not known of one taken from the outbox
 * @property {boolean} [moved] its first place was taken by another entry
 * @property {boolean} [erased] the desk erased its words, and none are in it any more; never sent
 *
 * @typedef {{record: string, key: string, sealed: Bytes}} PulledRow sealed: JSON of PulledEntry[]
 * @typedef {{record: string, log: string, from: number, to: number, key: string, sealed: Bytes}} PackRow
 *   a hundred own entries sealed once more together, to open fast; sealed: JSON of Opened[]
 *
 * @typedef {object} PhotoRow
 * @property {string} sealed SHA-256 of the sealed bytes, the row's name
 * @property {string} record
 * @property {string} key
 * @property {string} type
 * @property {Bytes} bytes sealed
 * @property {1} [waiting] not on the server yet
 *
 * @typedef {object} OutboxRow A whole entry kept by an older page. Never changes shape.
 * @property {string} header
 * @property {Bytes} sealed
 * @property {Wrap | null} wrap_server
 * @property {TabletWrap | null} wrap_tablet
 *
 * @typedef {object} Ruling The server's answer to one entry of this tablet.
 * @property {string} id
 * @property {"kept" | "had" | "conflict" | "refused"} answer
 * @property {"counted" | "set_aside" | null} counts
 * @property {string | null} because
 * @property {number | null} position
 * @property {boolean} [erased] the server holds its header only
 *
 * @typedef {object} PulledEntry
 * @property {string} header
 * @property {string | null} body null: erased, or never opened
 * @property {number} position
 * @property {"counted" | "set_aside"} counts
 * @property {string | null} because
 *
 * @typedef {{id: string, name: string, role: string, credential: string}} Person
 *
 * @typedef {object} Enrolment
 * @property {{id: string, name: string}} tablet
 * @property {string} token
 * @property {ServerKey} server_key
 * @property {string} hospital
 * @property {string} zone
 *
 * @typedef {"never" | "yes" | "no" | "not_ours" | "unauthorised" | "revoked" | "fault"} Reach
 *
 * @typedef {object} SyncState What the last rounds with the server came to.
 * @property {Reach} reach
 * @property {string | null} last_error
 * @property {number | null} last_sync_ms
 * @property {number | null} skew_ms
 * @property {{position: number, chain: string} | null} head
 * @property {boolean} went_back
 * @property {{[log: string]: number}} held contiguous seq on the server
 * @property {{[log: string]: number}} [sure] up to where each of these very entries was answered
 * @property {number | null} [tell] after a server went back: how many headers of others it was told; null: nothing more to tell
 * @property {number} [lost] entries of others that tablets hold and the server does not
 *
 * @typedef {{key: string, args: {[name: string]: string | number}}} Words
 *
 * @typedef {{persisted: boolean | null, usage: number | null, quota: number | null}} Storage
 *
 * @typedef {object} Complaint An own entry that does not count at the server.
 * @property {string} id
 * @property {string} record
 * @property {string | null} path null: it cannot be read here
 * @property {Json} value as it was given
 * @property {Op} op
 * @property {number | null} ms when it was made, by this tablet's clock then
 * @property {string} because a text, or a key into the user's words
 *
 * @typedef {object} Counts Where the entries are.
 * @property {number} total entries written on this tablet
 * @property {number} unsent
 * @property {number} onServer
 * @property {Complaint[]} setAside
 * @property {Complaint[]} refused
 * @property {Complaint[]} conflicts
 * @property {Complaint[]} erased
 * @property {number} photosHere on this tablet only
 * @property {{sealed: string, record: string, because: string}[]} photosRefused because: a text, or a key into the user's words
 * @property {number} shut entries of a case begun without unlocking whose key is gone
 * @property {number} damaged entries that do not open any more
 * @property {number | null} lastSync
 * @property {Reach} reach
 * @property {string | null} lastError
 * @property {number | null} skew_ms
 * @property {{position: number, chain: string} | null} head
 * @property {boolean} wentBack
 * @property {number} lost entries of others that the server lost
 * @property {Storage} storage
 * @property {boolean} older this page is older than the database
 * @property {boolean} enrolled
 *
 * @typedef {Counts & {words: Words, notes: Words[]}} Status
 *
 * @typedef {object} RecordRow
 * @property {string} record
 * @property {Fold} fold
 * @property {number} first_ms
 * @property {number} last_ms
 * @property {number} entries
 * @property {number} unsent
 * @property {number} notTaken refused, or another entry stands in its place
 *
 * @typedef {{what: "record", record: string, isWritten?: true, isGone?: true} | {what: "status"} | {what: "people"} | {what: "crowd"} | {what: "asked"}} Change
 *
 * @typedef {object} MetaRows The tablet's own facts, one row each.
 * @property {{current: string, tips: {[log: string]: number}, moves?: number}} log moves: entries that got another place
 * @property {Enrolment} enrolment
 * @property {{list: Person[]}} people
 * @property {{of: {[record: string]: string[]}}} erasing headers of entries whose words the desk erased, until they are off this disk
 * @property {SyncState} sync
 * @property {{of: {[record: string]: number}}} since position pulled up to
 * @property {{loose: {[sealed: string]: 1}, refused: {[sealed: string]: {record: string, because: string}},
 *   most: {bytes: number, because: string} | null}} photos loose: no entry names them yet; most: what the server takes
 * @property {{of: {[record: string]: string}, rows: {[digest: string]: JsonObject}, in_use: string | null}} limits
 *   of: name of the limits a record began with; in_use: of those a new one begins with
 * @property {{of: {[record: string]: import("./types-stay.js").Stay}}} stays how long each record was here
 * @property {import("./types-lock.js").LockSettings} settings of the site, as the server told them last
 * @property {{records: string[]}} asked records opened that this tablet may hold nothing of
 *
 * @typedef {object} Base The tablet's open database.
 * @property {boolean} older this page is older than the database: write to the outbox only
 * @property {Transact} transact
 * @property {() => void} close
 *
 * @callback Transact Run `work` in one transaction of strict durability.
 *   Resolves with its result only after the commit. `work` may await nothing but
 *   requests of that transaction.
 * @param {string[]} stores
 * @param {IDBTransactionMode} mode
 * @param {(tx: IDBTransaction) => any} work any: the result's type is the caller's
 * @param {IDBTransactionDurability} [durability] "relaxed" only for copies that are made again
 * @returns {Promise<any>} any: the same
 *
 * @typedef {import("./types-keys.js").Sealer} Sealer
 * @typedef {import("./types-keys.js").Keys} Keys
 *
 * @typedef {object} Writer What appending needs.
 * @property {Base} base
 * @property {Keys} keys
 * @property {Reader} reader
 * @property {string} elsewhere the zone while the log is enrolled nowhere
 * @property {string} lock name of the Web Lock under which the log grows
 * @property {() => number} now Unix milliseconds
 * @property {{log: string, seq: number}} spare the log of the outbox
 * @property {{log: string, seq: number}} last this page's last place in the log
 * @property {Promise<unknown>} turn this page's entries are kept one after the other
 * @property {number} crowded_ms until then by the page's clock, another page writes, too
 * @property {import("./log/channel.js").Channel} channel
 * @property {Standing | null} standing where the log stood when last looked at
 *
 * @typedef {object} Standing The next place of the log, and what an entry there needs.
 * @property {string} log
 * @property {number} seq
 * @property {ServerKey | null} server
 * @property {string} zone
 * @property {number | null} skew_ms
 *
 * @typedef {object} Reader Opened entries, kept in memory once read.
 * @property {(record: string) => Promise<Fold>} fold
 * @property {(record: string) => Promise<Map<string, boolean>>} known id of each pulled entry to whether it counts and can be read
 * @property {(record: string, entry: Opened) => Promise<void>} add
 * @property {(record?: string) => void} stale read again before the next answer; none: all records
 * @property {(record: string) => void} forget let go of all that was opened of it
 * @property {() => void} ruled the server may rule otherwise now on this tablet's own entries
 * @property {(record: string) => number} shut how many of its entries lie under a key that is not here
 * @property {() => number} damaged how many entries did not open
 *
 * @typedef {{version: number, parts: JsonObject[], top: JsonObject[], say: {[key: string]: string}, policy: JsonObject}} Catalogue
 *
 * @typedef {{ready: boolean, have: number, want: number, version: string | null, missing: string[]}} Readiness
 *   whether the page would open without network
 * @typedef {{type: "shell", version: string, cache: string, shell: string[]}} ShellList
 *
 * @typedef {import("./log/store.js").Store} Store
 */

export {};
