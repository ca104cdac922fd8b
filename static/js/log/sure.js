/** @import { MetaRows, Ruling, SyncState } from "../types.js" */
import { result } from "./transaction.js";

/**
 * Return up to where of a log nothing is to be sent: what the server says it holds, as
 * far as it answered for these very entries. A number alone does not tell whose bytes
 * stand there, when this database or the server's was put back to an older copy.
 * @param {SyncState} sync
 * @param {string} log
 * @returns {number}
 */
export function knownUpTo({ held, sure = {} }, log) {
  return Math.min(held[log] ?? 0, sure[log] ?? 0);
}

/**
 * Return how far each log is sure once a reply came: every entry up to there was answered
 * by its id since the server last went back.
 * @param {IDBTransaction} tx
 * @param {MetaRows["log"]} log
 * @param {SyncState} before
 * @param {Ruling[]} answers
 * @returns {Promise<{[log: string]: number}>}
 */
export async function sureAfter(tx, { tips }, { sure = {} }, answers) {
  const answered = new Set(answers.map(({ id }) => id));
  const known = new Set(await result(tx.objectStore("rulings").getAllKeys()));
  const logs = Object.keys(tips).map(async (log) => {
    let upto = sure[log] ?? 0;
    for (const { id, seq } of await result(tx.objectStore("entries").getAll(IDBKeyRange.bound([log, upto + 1], [log, Infinity])))) {
      if (!answered.has(id) && !known.has(id)) break;
      upto = seq;
    }
    return [log, upto];
  });
  return Object.fromEntries(await Promise.all(logs));
}
