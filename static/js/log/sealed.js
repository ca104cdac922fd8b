import { metaRow } from "./meta.js";

/**
 * Return the records, within a transaction, that cannot be read here any more.
 * @param {IDBTransaction} tx over `meta`
 * @returns {Promise<Set<string>>}
 */
export async function sealedIn(tx) {
  const stays = Object.entries((await metaRow(tx, "stays"))?.of ?? {});
  return new Set(stays.filter(([, { sealed_ms, removed_ms }]) => sealed_ms !== null && removed_ms === null).map(([record]) => record));
}
