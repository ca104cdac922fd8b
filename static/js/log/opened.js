/** @import { EntryRow, Keys, Opened, OutboxRow, PackRow, PulledEntry, PulledRow } from "../types.js" */
import { fromUtf8 } from "./bytes.js";
import { decodeBody, decodeHeader } from "./entry.js";
import { splitRow } from "./outbox.js";
import { open } from "./seal.js";

/** So many at a time: all 5,000 at once hold up the page, one by one is slower. */
const GROUP = 100;

/**
 * Open entries of this tablet.
 * @param {Keys} keys
 * @param {EntryRow[]} rows
 * @returns {Promise<(Opened | null)[]>} null: this one does not open
 */
export function openOwn(keys, rows) {
  return inGroups(rows, async (row) => {
    const { id, log, seq, key } = decodeHeader(row.header);
    const opener = await keys.opener(key);
    return opener && { id, log, seq, body: decodeBody(await open(opener, row.header, row.sealed)) };
  });
}

/**
 * Return the entries that can be opened here: those of a case begun without unlocking may
 * lie under a key that is gone. They are not damaged.
 * @param {Keys} keys
 * @param {EntryRow[]} rows
 * @returns {Promise<EntryRow[]>}
 */
export async function readable(keys, rows) {
  const under = (/** @type {EntryRow} */ { header }) => decodeHeader(header).key;
  const shut = new Set();
  for (const id of new Set(rows.map(under))) if (await keys.isShut(id)) shut.add(id);
  return shut.size ? rows.filter((row) => !shut.has(under(row))) : rows;
}

/**
 * Open entries that an older page left in the outbox.
 * @param {Keys} keys
 * @param {OutboxRow[]} rows
 * @param {string} record
 * @returns {Promise<(Opened | null)[]>}
 */
export async function openOutside(keys, rows, record) {
  const split = rows.map(splitRow).filter(({ entry }) => entry.record === record);
  await Promise.all(split.map(({ key }) => keys.opener(key.key, key.wrap_tablet)));
  return openOwn(keys, split.map(({ entry }) => entry));
}

/**
 * Open a hundred entries at once.
 * @param {Keys} keys
 * @param {PackRow[]} packs
 * @returns {Promise<(Opened[] | null)[]>}
 */
export function openPacks(keys, packs) {
  return inGroups(packs, (pack) => openJson(keys, pack, packName(pack)));
}

/**
 * Open what came from the server.
 * @param {Keys} keys
 * @param {PulledRow[]} rows
 * @returns {Promise<(PulledEntry[] | null)[]>}
 */
export function openPulled(keys, rows) {
  return inGroups(rows, (row) => openJson(keys, row, pulledName(row)));
}

/**
 * The associated data of a pack.
 * @param {{record: string, log: string, from: number}} pack
 * @returns {string}
 */
export function packName({ record, log, from }) {
  return `pack\n${record}\n${log}\n${from}\n`;
}

/**
 * The associated data of pulled entries.
 * @param {{record: string}} row
 * @returns {string}
 */
export function pulledName({ record }) {
  return `pulled\n${record}\n`;
}

/**
 * @param {Keys} keys
 * @param {{key: string, sealed: Uint8Array}} row
 * @param {string} name
 */
async function openJson(keys, row, name) {
  const key = await keys.opener(row.key);
  return key && JSON.parse(fromUtf8(await open(key, name, row.sealed)));
}

/**
 * One damaged row must not hide the others: it gives null.
 * @template R, T
 * @param {R[]} rows
 * @param {(row: R) => Promise<T | null>} work
 * @returns {Promise<(T | null)[]>}
 */
async function inGroups(rows, work) {
  /** @type {(T | null)[]} */
  const done = [];
  for (let at = 0; at < rows.length; at += GROUP) {
    done.push(...(await Promise.all(rows.slice(at, at + GROUP).map((row) => work(row).catch(() => null)))));
  }
  return done;
}
