/** @import { Base, Keys, PulledRow } from "../types.js" */
import { decodeHeader } from "./entry.js";
import { openPulled } from "./opened.js";
import { result } from "./transaction.js";

/** So much of one request may tell what this tablet holds of others. */
const MOST = 2000;
const MOST_BYTES = 1024 * 1024;

/**
 * @typedef {object} Holds Headers of entries by others, for one request.
 * @property {Map<string, string[]>} of by record
 * @property {number} bytes as they travel
 * @property {number | null} next how many will have been told then; null: all
 */

/**
 * Return the next headers to tell a server that went back: entries of other tablets and
 * of the desk that were pulled here. The server never takes their bodies from this
 * tablet; it learns what it lost. Does not write.
 * @param {Base} base
 * @param {Keys} keys
 * @param {Iterable<string>} records
 * @param {number | null} from how many were told already; null: nothing is to be told
 * @returns {Promise<Holds>}
 */
export async function headersHeld(base, keys, records, from) {
  /** @type {Holds} */
  const holds = { of: new Map(), bytes: 0, next: null };
  if (from === null) return holds;
  // A locked tablet cannot read what it was given: it tells the rest once it is unlocked.
  if (keys.isLocked) return { ...holds, next: from };
  let at = 0;
  let count = 0;
  for (const record of records) {
    for (const header of await headersOf(base, keys, record)) {
      if ((at += 1) <= from) continue;
      // With its quotes, its comma and its escaped line ends.
      const size = JSON.stringify(header).length + 1;
      if (count === MOST || holds.bytes + size > MOST_BYTES) return { ...holds, next: from + count };
      holds.of.set(record, [...(holds.of.get(record) ?? []), header]);
      holds.bytes += size;
      count += 1;
    }
  }
  return holds;
}

/**
 * Later pulls only add to these, so that a count tells how far they were told.
 * @param {Base} base
 * @param {Keys} keys
 * @param {string} record
 * @returns {Promise<string[]>} each once, by log and seq
 */
async function headersOf(base, keys, record) {
  /** @type {PulledRow[]} */
  const rows = await base.transact(["pulled"], "readonly", (tx) =>
    result(tx.objectStore("pulled").index("record").getAll(record)),
  );
  const entries = (await openPulled(keys, rows)).flatMap((pack) => pack ?? []);
  const headers = [...new Set(entries.map(({ header }) => header))];
  const keyed = headers.map((header) => ({ header, ...decodeHeader(header) }));
  return keyed.sort((a, b) => (a.log < b.log ? -1 : Number(a.log > b.log)) || a.seq - b.seq).map(({ header }) => header);
}
