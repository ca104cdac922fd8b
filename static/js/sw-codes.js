/** @import { Bytes } from "./types.js" */
import { askWorker } from "./sw-ask.js";

/**
 * @typedef {object} Codes What the worker tells of the cases begun without unlocking.
 * @property {boolean} isIn somebody works without having unlocked, since the tablet was last locked
 * @property {number} left so many more tries may open something
 * @property {OpenCase[]} cases those that are open
 * @property {number} closed how many a code would open
 * @property {string[]} records of those that are open, or that a code may open yet
 *
 * @typedef {object} OpenCase
 * @property {string} record
 * @property {string} code four digits
 * @property {{id: string, log: string, key: CryptoKey, raw: Bytes}[]} keys
 */

/** @type {Codes} */
const NONE = { isIn: false, left: 0, cases: [], closed: 0, records: [] };

/** Look at them. */
export function lookAtCodes() {
  return ask({ ask: "state" });
}

/**
 * Come in without unlocking.
 * @returns {Promise<boolean>} false: there is no worker that would hold a key
 */
export async function enterByCode() {
  return (await ask({ ask: "enter" })).isIn;
}

/**
 * Begin a case, or go on with one that cannot be read here any more.
 * @param {string} record
 * @returns {Promise<string | null>} the code that opens it again; null: not here, not now
 */
export async function beginByCode(record) {
  return /** @type {{code?: string | null}} */ (await askWorker("codes", { ask: "begin", record })).code ?? null;
}

/**
 * Keep a key of an open case where its code finds it.
 * @param {string} record
 * @param {{id: string, log: string, raw: Bytes, key: CryptoKey}} key
 * @returns {Promise<boolean>} false: the case is not open any more
 */
export async function keepByCode(record, key) {
  return /** @type {{isKept?: boolean}} */ (await askWorker("codes", { ask: "keep", record, key })).isKept === true;
}

/**
 * Give back what is open here, where the browser ended the worker that held it.
 * @param {OpenCase[]} cases
 */
export function restoreCodes(cases) {
  return ask({ ask: "restore", cases });
}

/**
 * Try a code.
 * @param {string} digits
 * @returns {Promise<{record: string | null, left: number}>} the case that it opened
 */
export async function tryCode(digits) {
  const told = await askWorker("codes", { ask: "try", digits });
  return typeof told === "string" ? { record: null, left: 0 } : /** @type {{record: string | null, left: number}} */ (told);
}

/**
 * Lock: nothing is open any more; no code opens what is over.
 * @param {string[]} over records
 * @returns {Promise<boolean>} false: a worker is there and does not answer
 */
export async function leaveCodes(over) {
  return (await askWorker("codes", { ask: "leave", over })) !== "silent";
}

/**
 * Take the keys out, once somebody unlocked the tablet.
 * @returns {Promise<{id: string, raw: Bytes}[]>}
 */
export async function keysToAdopt() {
  return /** @type {{keys?: {id: string, raw: Bytes}[]}} */ (await askWorker("codes", { ask: "adopt" })).keys ?? [];
}

/**
 * They lie under the tablet's own key now, too.
 * @param {string[]} ids
 */
export function keysAdopted(ids) {
  return ask({ ask: "adopted", ids });
}

/** Who holds the keys of cases begun without unlocking. @type {import("./types-lock.js").ByCode} */
export const byCode = {
  enter: async () => {
    const { isIn } = await lookAtCodes();
    return isIn ? { look: async () => (await lookAtCodes()).cases, begin: beginByCode, keep: keepByCode, restore: restoreCodes } : null;
  },
  toAdopt: keysToAdopt,
  adopted: keysAdopted,
};

/** @param {object} what @returns {Promise<Codes>} */
async function ask(what) {
  const told = await askWorker("codes", what);
  return typeof told === "string" ? NONE : /** @type {Codes} */ (told);
}
