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
 * @typedef {object} KeyRow
 * @property {string} key
 * @property {string} record
 * @property {string} log
 * @property {Wrap | null} wrap_server null until a server key is known
 * @property {TabletWrap | null} wrap_tablet null while nobody is unlocked
 *
 * @typedef {object} EntryRow
 * @property {string} id
 * @property {string} record
 * @property {string} log
 * @property {number} seq
 * @property {string} header
 * @property {Bytes} sealed
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
 *
 * @typedef {object} PulledEntry
 * @property {string} header
 * @property {string} body
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
 * @typedef {"never" | "yes" | "no" | "not_ours" | "unauthorised" | "fault"} Reach
 *
 * @typedef {object} SyncState What the last rounds with the server came to.
 * @property {Reach} reach
 * @property {string | null} last_error
 * @property {number | null} last_sync_ms
 * @property {number | null} skew_ms
 * @property {{position: number, chain: string} | null} head
 * @property {boolean} went_back
 * @property {{[log: string]: number}} held contiguous seq on the server
 *
 * @typedef {{key: string, args: {[name: string]: string | number}}} Words
 *
 * @typedef {{persisted: boolean | null, usage: number | null, quota: number | null}} Storage
 *
 * @typedef {{id: string, record: string, path: string | null, because: string}} Complaint
 *
 * @typedef {object} Status
 * @property {number} total entries written on this tablet
 * @property {number} unsent
 * @property {number} onServer
 * @property {Complaint[]} setAside
 * @property {Complaint[]} refused
 * @property {number} photosHere
 * @property {number | null} lastSync
 * @property {Reach} reach
 * @property {string | null} lastError
 * @property {number | null} skew_ms
 * @property {{position: number, chain: string} | null} head
 * @property {boolean} wentBack
 * @property {Storage} storage
 * @property {boolean} older this page is older than the database
 * @property {Words} words
 * @property {Words[]} notes
 *
 * @typedef {object} RecordRow
 * @property {string} record
 * @property {Fold} fold
 * @property {number} first_ms
 * @property {number} last_ms
 * @property {number} entries
 * @property {number} unsent
 *
 * @typedef {{what: "record", record: string} | {what: "status"} | {what: "people"}} Change
 */
export {};
