/** @import { Base, MetaRows, SyncState } from "../types.js" */
import { result } from "./transaction.js";

/**
 * Before the server ever answered.
 * @type {SyncState}
 */
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
