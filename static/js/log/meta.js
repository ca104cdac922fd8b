/** @import { Base } from "./db.js" */
/** @import { Enrolment, Person, SyncState } from "../types.js" */
import { result } from "./db.js";

/**
 * The tablet's own facts, one row each.
 * @typedef {object} MetaRows
 * @property {{current: string, tips: {[log: string]: number}}} log
 * @property {Enrolment} enrolment
 * @property {{list: Person[]}} people
 * @property {SyncState} sync
 * @property {{of: {[record: string]: number}, all: boolean}} since position pulled up to; all: pull from 0
 * @property {{records: string[]}} asked records opened that this tablet may hold nothing of
 */

/** @type {SyncState} */
export const NEVER_SYNCED = {
  reach: "never",
  last_error: null,
  last_sync_ms: null,
  skew_ms: null,
  head: null,
  went_back: false,
  held: {},
};

/**
 * Read one row within a transaction.
 * @template {keyof MetaRows} K
 * @param {IDBTransaction} tx
 * @param {K} name
 * @returns {Promise<MetaRows[K] | undefined>}
 */
export async function metaRow(tx, name) {
  return result(tx.objectStore("meta").get(name));
}

/**
 * Write one row within a transaction.
 * @template {keyof MetaRows} K
 * @param {IDBTransaction} tx
 * @param {K} name
 * @param {MetaRows[K]} row
 */
export function putMeta(tx, name, row) {
  tx.objectStore("meta").put({ ...row, name });
}

/**
 * Read one row.
 * @template {keyof MetaRows} K
 * @param {Base} base
 * @param {K} name
 * @returns {Promise<MetaRows[K] | undefined>}
 */
export function readMeta(base, name) {
  return base.transact(["meta"], "readonly", (tx) => metaRow(tx, name));
}

/**
 * Write one row; resolves after the commit.
 * @template {keyof MetaRows} K
 * @param {Base} base
 * @param {K} name
 * @param {MetaRows[K]} row
 * @returns {Promise<void>}
 */
export function writeMeta(base, name, row) {
  return base.transact(["meta"], "readwrite", (tx) => putMeta(tx, name, row));
}
