/** @import { Base, DataKeyRow, KeyRow, Keys } from "../types.js" */
import { randomBytes } from "./bytes.js";
import { result } from "./transaction.js";
import { passphraseKey, sealingKey, unwrapForTablet, wrapForServer, wrapForTablet } from "./seal.js";
import { uuid7 } from "./uuid.js";

/**
 * Open the tablet's data key from its `wraps` row (made at the first start), and give
 * out record keys.
 * @param {Base} base
 * @returns {Promise<Keys>}
 */
export async function openKeys(base) {
  const dataKey = await openDataKey(base);
  /** @type {Map<string, CryptoKey>} */
  const known = new Map();
  /** @type {Map<string, {id: string, key: CryptoKey, fresh: null}>} those that stand in the database */
  const sealers = new Map();

  /** @type {Keys["sealer"]} */
  async function sealer(record, log, server) {
    const place = `${record} ${log}`;
    const standing = sealers.get(place);
    if (standing) return standing;
    const row = await base.transact(["keys"], "readonly", (tx) =>
      result(tx.objectStore("keys").index("record").get([record, log])),
    );
    const key = row ? await opener(row.key) : null;
    if (key) {
      sealers.set(place, { id: row.key, key, fresh: null });
      return { id: row.key, key, fresh: null };
    }
    const names = { key: uuid7(), record, log };
    const raw = randomBytes(32);
    const wrap_server = server ? await wrapForServer(names, raw, server) : null;
    const fresh = { ...names, wrap_server, wrap_tablet: await wrapForTablet(dataKey, names.key, raw) };
    const made = await sealingKey(raw);
    known.set(names.key, made);
    return { id: names.key, key: made, fresh };
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
    if (ready(record)) return;
    /** @type {KeyRow | undefined} */
    const row = await base.transact(["keys"], "readonly", (tx) =>
      result(tx.objectStore("keys").index("record").get(IDBKeyRange.bound([record], [record, []]))),
    );
    const key = row ? await opener(row.key) : null;
    if (row && key) sealers.set(`${record} ${row.log}`, { id: row.key, key, fresh: null });
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

  return { sealer, at, ready, warm, opener, wrapped };
}

/**
 * @param {Base} base
 * @param {string} id
 * @returns {Promise<KeyRow | null>}
 */
async function keyRow(base, id) {
  return (await base.transact(["keys"], "readonly", (tx) => result(tx.objectStore("keys").get(id)))) ?? null;
}

/**
 * @param {Base} base
 * @returns {Promise<CryptoKey>}
 */
async function openDataKey(base) {
  const standing = await base.transact(["wraps"], "readonly", dataKeyRow);
  const row = standing ?? (await keptFirst(base, await newDataKeyRow()));
  const under = await passphraseKey("", row.salt, row.rounds);
  return sealingKey(await unwrapForTablet(under, row.who, row));
}

/**
 * @param {Base} base
 * @param {DataKeyRow} made
 * @returns {Promise<DataKeyRow>}
 */
function keptFirst(base, made) {
  return base.transact(["wraps"], "readwrite", async (tx) => {
    // Another window may have made one in between: the first one stands.
    const standing = await dataKeyRow(tx);
    if (!standing) tx.objectStore("wraps").put(made);
    return standing ?? made;
  });
}

/**
 * @param {IDBTransaction} tx
 * @returns {Promise<DataKeyRow | undefined>}
 */
function dataKeyRow(tx) {
  return result(tx.objectStore("wraps").get("tablet"));
}

/** @returns {Promise<DataKeyRow>} */
async function newDataKeyRow() {
  const salt = randomBytes(16);
  const under = await passphraseKey("", salt, 1);
  const wrap = await wrapForTablet(under, "tablet", randomBytes(32));
  return { who: "tablet", how: "none", kdf: "PBKDF2-SHA-256", rounds: 1, salt, ...wrap };
}
