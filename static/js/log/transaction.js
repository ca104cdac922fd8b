import { asProblem } from "./problem.js";

/**
 * Await one request of a transaction.
 * @template T
 * @param {IDBRequest<T>} request
 * @returns {Promise<T>}
 */
export function result(request) {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

/**
 * Do the work of a transaction; where it writes, resolves only after the commit.
 * @param {IDBTransaction} tx
 * @param {(tx: IDBTransaction) => any} work any: the result's type is the caller's
 * @returns {Promise<any>} any: the same
 * @throws {StoreProblem} when nothing of it is kept
 */
export async function finished(tx, work) {
  const committed = new Promise((resolve, reject) => {
    tx.oncomplete = resolve;
    tx.onabort = () => reject(asProblem(tx.error));
  });
  // When `work` fails its own error is told; this one must not count as unhandled.
  committed.catch(() => {});
  try {
    const answer = await work(tx);
    // What was only read is true already; what was written is kept after the commit.
    if (tx.mode !== "readonly") await committed;
    return answer;
  } catch (error) {
    ended(tx);
    // A full disk ends the transaction, and its requests only say that it ended.
    throw asProblem(tx.error ?? error);
  }
}

/**
 * End a transaction, unless it is over already.
 * @param {IDBTransaction} tx
 */
function ended(tx) {
  try {
    tx.abort();
  } catch (error) {
    if (!(error instanceof DOMException)) throw error;
  }
}
