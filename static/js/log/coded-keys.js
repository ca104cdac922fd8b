/** @import { Base, Keys } from "../types.js" */
/** @import { OpenCase } from "../sw-codes.js" */
/** @import { CaseKeys } from "../types-lock.js" */
import { randomBytes } from "./bytes.js";
import { lockedKeys } from "./locked-keys.js";
import { StoreProblem } from "./problem.js";
import { sealingKey, wrapForServer } from "./seal.js";
import { keyRows } from "./key-rows.js";
import { uuid7 } from "./uuid.js";

/**
 * Give out the keys of cases begun without unlocking. Each lies in the worker's memory, and
 * wrapped for the server in the database: none of them under the tablet's own key.
 * @param {Base} base
 * @param {CaseKeys} cases
 * @returns {Promise<Keys>}
 */
export async function codedKeys(base, cases) {
  /** @type {Map<string, OpenCase["keys"][number] & {record: string}>} */
  const known = new Map();
  /** @type {Map<string, {id: string, key: CryptoKey, fresh: null}>} those that stand in the database */
  const sealers = new Map();
  /** @type {Map<string, string>} */
  const codes = new Map();
  await look();

  async function look() {
    for (const { record, code, keys } of await cases.look()) {
      codes.set(record, code);
      for (const one of keys) known.set(one.id, { ...one, record });
    }
  }

  /** Another window may have made it since. @param {string} id */
  async function keyOf(id) {
    if (!known.has(id)) await look();
    return known.get(id)?.key ?? null;
  }

  /** @type {Keys["sealer"]} */
  async function sealer(record, log, server) {
    if (!codes.has(record)) throw new StoreProblem("locked");
    const place = `${record} ${log}`;
    const ready = sealers.get(place) ?? (await standing(record, log));
    if (ready) return ready;
    const names = { key: uuid7(), record, log };
    const raw = randomBytes(32);
    // Without a server nobody could ever read it.
    if (!server) throw new StoreProblem("no_server");
    const [wrap_server, key] = await Promise.all([wrapForServer(names, raw, server), sealingKey(raw)]);
    // Kept there before anything lies under it: locked meanwhile, it is not begun.
    const kept = { id: names.key, log, raw, key };
    if (!(await cases.keep(record, kept)) && !(await again(() => cases.keep(record, kept)))) throw new StoreProblem("locked");
    known.set(names.key, { ...kept, record });
    return { id: names.key, key, fresh: { ...names, wrap_server, wrap_tablet: null, by_code: true } };
  }

  /** @param {string} record @param {string} [log] undefined: any */
  async function standing(record, log) {
    for (const row of (await keyRows(base, record, log)).reverse()) {
      const key = await keyOf(row.key);
      const found = key && { id: row.key, key, fresh: null };
      if (found) sealers.set(`${record} ${row.log}`, found);
      if (found) return found;
    }
    return null;
  }

  /** The browser may have ended the worker that held them. @template T @param {() => Promise<T>} ask */
  async function again(ask) {
    await cases.restore(open());
    return ask();
  }

  /** @type {Keys["open"]} */
  function open() {
    return [...codes].map(([record, code]) => ({ record, code, keys: [...known.values()].filter((one) => one.record === record) }));
  }

  /** @type {Keys["forget"]} */
  function forget(record) {
    for (const place of sealers.keys()) if (place.startsWith(`${record} `)) sealers.delete(place);
    for (const [id, one] of known) if (one.record === record) known.delete(id);
  }

  /** @type {Keys["ready"]} */
  function ready(record) {
    for (const [place, found] of sealers) if (place.startsWith(`${record} `)) return found;
    return null;
  }

  /** @type {Keys["begin"]} */
  async function begin(record) {
    const code = codes.get(record) ?? (await cases.begin(record)) ?? (await again(() => cases.begin(record)));
    if (!code) throw new StoreProblem("locked");
    codes.set(record, code);
    return code;
  }

  return {
    ...lockedKeys(base),
    isByCode: true,
    sealer,
    begin,
    codeOf: (record) => codes.get(record) ?? null,
    isHere: (record) => codes.has(record),
    open,
    forget,
    at: (record, log) => sealers.get(`${record} ${log}`) ?? null,
    ready,
    warm: async (record) => {
      if (!ready(record)) await standing(record);
    },
    opener: keyOf,
    isShut: async (id) => !(await keyOf(id)),
  };
}
