/** @import { Enrolment, EntryRow, Keys, Wrap } from "../types.js" */

/**
 * Return the keys of these entries, wrapped for the server.
 * @param {Keys} keys
 * @param {EntryRow[]} rows
 * @param {Pick<Enrolment, "server_key">} enrolment
 * @returns {Promise<Map<string, Wrap>>} by key id; a key that nobody can wrap is absent
 */
export async function wrapsFor(keys, rows, { server_key }) {
  /** @type {Map<string, Wrap>} */
  const wraps = new Map();
  for (const id of new Set(rows.map(keyOf))) {
    const wrap = (await keys.wrapped(id, server_key))?.wrap_server;
    if (wrap) wraps.set(id, wrap);
  }
  return wraps;
}

/**
 * Return the entries that can be sent: of a locked tablet those whose key is wrapped for
 * the server already. The others wait for somebody to unlock it, and hold up none.
 * @param {Keys} keys
 * @param {EntryRow[]} rows
 * @param {Pick<Enrolment, "server_key">} enrolment
 * @returns {Promise<EntryRow[]>}
 */
export async function sendable(keys, rows, enrolment) {
  if (!keys.isLocked) return rows;
  const wraps = await wrapsFor(keys, rows, enrolment);
  return rows.filter((row) => wraps.has(keyOf(row)));
}

/**
 * Return the id of the key that an entry is sealed under.
 * @param {EntryRow} row
 * @returns {string}
 */
export function keyOf({ header }) {
  return header.split("\n")[5];
}
