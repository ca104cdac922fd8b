/** @import { Base, KeyRow, Keys } from "../types.js" */
import { randomBytes } from "./bytes.js";
import { keyRow, keyRows } from "./key-rows.js";
import { sealingKey, unwrapForTablet, wrapForServer, wrapForTablet } from "./seal.js";
import { uuid7 } from "./uuid.js";

/**
 * Give out record keys, which lie under the tablet's data key.
 * @param {Base} base
 * @param {CryptoKey} dataKey
 * @returns {Keys}
 */
export function openKeys(base, dataKey) {
  /** @type {Map<string, CryptoKey>} */
  const known = new Map();
  /** @type {Map<string, {id: string, key: CryptoKey, fresh: null}>} those that stand in the database */
  const sealers = new Map();

  /** @type {Keys["sealer"]} */
  async function sealer(record, log, server) {
    const place = `${record} ${log}`;
    const standing = sealers.get(place);
    if (standing) return standing;
    const found = await latestOpen(record, log);
    if (found) return found;
    const names = { key: uuid7(), record, log };
    const raw = randomBytes(32);
    const wrap_server = server ? await wrapForServer(names, raw, server) : null;
    const fresh = { ...names, wrap_server, wrap_tablet: await wrapForTablet(dataKey, names.key, raw) };
    const made = await sealingKey(raw);
    known.set(names.key, made);
    return { id: names.key, key: made, fresh };
  }

  /**
   * One that was begun without unlocking, and is not readable here, lies beside the others.
   * @param {string} record
   * @param {string} [log] undefined: of any
   */
  async function latestOpen(record, log) {
    for (const row of (await keyRows(base, record, log)).reverse()) {
      const key = await opener(row.key);
      const found = key && { id: row.key, key, fresh: null };
      if (found) sealers.set(`${record} ${row.log}`, found);
      if (found) return found;
    }
    return null;
  }

  /** @type {Keys["opener"]} */
  async function opener(id, carried) {
    const held = known.get(id);
    if (held) return held;
    const wrap = carried ?? (await keyRow(base, id))?.wrap_tablet;
    if (!wrap) return null;
    const key = await sealingKey(await unwrapForTablet(dataKey, id, wrap));
    known.set(id, key);
    return key;
  }

  /** @type {Keys["at"]} */
  function at(record, log) {
    return sealers.get(`${record} ${log}`) ?? null;
  }

  /** @type {Keys["ready"]} */
  function ready(record) {
    for (const [place, standing] of sealers) if (place.startsWith(`${record} `)) return standing;
    return null;
  }

  /** @type {Keys["warm"]} */
  async function warm(record) {
    if (!ready(record)) await latestOpen(record);
  }

  /** @type {Keys["isShut"]} */
  async function isShut(id) {
    if (known.has(id)) return false;
    const row = await keyRow(base, id);
    return row !== null && !row.wrap_tablet;
  }

  /** @type {Keys["wrapped"]} */
  async function wrapped(id, server) {
    const row = await keyRow(base, id);
    // A server that has a new key may have lost the old one.
    if (!row || row.wrap_server?.server_key === server.id || !row.wrap_tablet) return row;
    const raw = await unwrapForTablet(dataKey, id, row.wrap_tablet);
    const names = { key: row.key, record: row.record, log: row.log };
    const full = { ...row, wrap_server: await wrapForServer(names, raw, server) };
    await base.transact(["keys"], "readwrite", (tx) => void tx.objectStore("keys").put(full));
    return full;
  }

  /** @type {Keys["forget"]} */
  function forget(record) {
    for (const [place, { id }] of sealers) if (place.startsWith(`${record} `)) (sealers.delete(place), known.delete(id));
  }

  const [begin, codeOf, isHere] = [async () => fourDigits(), () => null, () => true];
  return { isLocked: false, isByCode: false, sealer, begin, codeOf, isHere, open: () => [], at, ready, warm, opener, isShut, wrapped, forget };
}

/** Return a case's code; on an unlocked tablet it names a case, and opens none. */
function fourDigits() {
  const [random = 0] = crypto.getRandomValues(new Uint32Array(1));
  return String(1000 + (random % 9000));
}
