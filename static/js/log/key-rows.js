/** @import { Base, KeyRow } from "../types.js" */
import { result } from "./transaction.js";

/**
 * Read the row of one record key.
 * @param {Base} base
 * @param {string} id
 * @returns {Promise<KeyRow | null>}
 */
export async function keyRow(base, id) {
  return (await base.transact(["keys"], "readonly", (tx) => result(tx.objectStore("keys").get(id)))) ?? null;
}

/**
 * Read the rows of a record's keys, the oldest first. There are several of one log where an
 * earlier one cannot be opened here.
 * @param {Base} base
 * @param {string} record
 * @param {string} [log] undefined: of any
 * @returns {Promise<KeyRow[]>}
 */
export function keyRows(base, record, log) {
  const which = log === undefined ? allOf(record) : [record, log];
  return base.transact(["keys"], "readonly", (tx) => result(tx.objectStore("keys").index("record").getAll(which)));
}

/** @param {string} record every key that begins with it */
function allOf(record) {
  return IDBKeyRange.bound([record], [record, []]);
}
