/** @import { Storage } from "../types.js" */

/** Room goes as photos come, and the promise may be given later. */
const AGAIN_MS = 60_000;

/**
 * Return what tells what is promised and what is left, asked again as time goes.
 * @param {() => number} now Unix milliseconds
 * @returns {() => Promise<Storage>}
 */
export function watchStorage(now) {
  let [told, asked_ms] = [askToStay(), now()];
  return () => {
    if (Math.abs(now() - asked_ms) >= AGAIN_MS) [told, asked_ms] = [askToStay(), now()];
    return told;
  };
}

/**
 * Ask the browser to keep this store for good, and tell what it said and what is left.
 * @returns {Promise<Storage>} null where the browser does not say
 */
export async function askToStay() {
  const { storage } = navigator;
  if (!storage) return { persisted: null, usage: null, quota: null };
  try {
    const persisted = (await storage.persisted()) || (await storage.persist());
    const { usage = null, quota = null } = await storage.estimate();
    return { persisted, usage, quota };
  } catch (error) {
    // A browser without this promise still keeps entries; it is only not promised.
    if (!(error instanceof TypeError) && !(error instanceof DOMException)) throw error;
    return { persisted: null, usage: null, quota: null };
  }
}
