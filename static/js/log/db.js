/** @import { Base, Transact } from "../types.js" */
import { StoreProblem, asProblem } from "./problem.js";
import { STEPS } from "./steps.js";
import { finished } from "./transaction.js";

const NAME = "wiremark";
const OPEN_WITHIN_MS = 5000;

/**
 * Open the tablet's database, made and brought up to date where needed.
 * @param {object} [options]
 * @param {string} [options.name]
 * @param {number} [options.version]
 * @param {() => void} [options.onBlocked] another window keeps an older version open; opening waits for it
 * @param {() => void} [options.onLost] the connection ended: a newer version comes, or the browser took it
 * @returns {Promise<Base>}
 * @throws {StoreProblem} when there is none to be had
 */
export async function openBase({ name = NAME, version = STEPS.length, onBlocked = () => {}, onLost = () => {} } = {}) {
  /** @type {IDBDatabase | null} */
  let db = null;
  const base = { older: false, transact, close: () => db?.close() };

  /** @param {() => void} whenBlocked */
  async function connect(whenBlocked) {
    if (db) return db;
    const opened = await openAt(name, version, whenBlocked);
    base.older = opened.version > version;
    opened.onversionchange = () => lose(opened);
    opened.onclose = () => lose(opened);
    db = opened;
    return opened;
  }

  /** @param {IDBDatabase} lost */
  function lose(lost) {
    lost.close();
    if (db === lost) db = null;
    onLost();
  }

  /**
   * @param {string[]} stores
   * @param {IDBTransactionMode} mode
   * @param {IDBTransactionDurability} durability
   */
  async function begin(stores, mode, durability) {
    const opened = db ?? (await inTime(connect(() => {})));
    return opened.transaction(stores, mode, { durability });
  }

  /** @type {Transact} */
  async function transact(stores, mode, work, durability = "strict") {
    /** @type {IDBTransaction} */
    let tx;
    try {
      tx = await begin(stores, mode, durability);
    } catch (error) {
      if (!(error instanceof DOMException) || error.name !== "InvalidStateError") throw asProblem(error);
      // The browser closed the handle (sleep, low memory): once more with a new one.
      db = null;
      tx = await begin(stores, mode, durability);
    }
    return finished(tx, work);
  }

  await connect(onBlocked);
  return base;
}

/**
 * @template T
 * @param {Promise<T>} opening
 * @returns {Promise<T>}
 */
function inTime(opening) {
  return new Promise((resolve, reject) => {
    const late = setTimeout(() => reject(new StoreProblem("blocked")), OPEN_WITHIN_MS);
    opening.then(resolve, reject).finally(() => clearTimeout(late));
  });
}

/**
 * @param {string} name
 * @param {number | undefined} version undefined: as it stands
 * @param {() => void} onBlocked
 * @returns {Promise<IDBDatabase>}
 */
function openAt(name, version, onBlocked) {
  return new Promise((resolve, reject) => {
    const request = asked(name, version);
    request.onblocked = onBlocked;
    request.onupgradeneeded = ({ oldVersion, newVersion }) =>
      STEPS.slice(oldVersion, newVersion ?? undefined).forEach((step) => step(request.result));
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => {
      if (request.error?.name === "VersionError") resolve(openAt(name, undefined, onBlocked));
      else reject(new StoreProblem("absent", request.error));
    };
  });
}

/**
 * @param {string} name
 * @param {number | undefined} version
 * @returns {IDBOpenDBRequest}
 */
function asked(name, version) {
  try {
    return indexedDB.open(name, version);
  } catch (error) {
    // Private windows and policies take the whole database away, or refuse to open it.
    throw new StoreProblem("absent", error);
  }
}
