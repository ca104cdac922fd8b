/** @import { Who } from "./types.js" */
import { ANSWER_WITHIN_MS, askWorker } from "./sw-ask.js";

/**
 * @typedef {object} Vault What the worker that keeps the tablet's data key tells of it.
 * @property {"open" | "pin" | "none" | "failed"} state pin: it lies behind a PIN; none: only a passphrase opens it
 * @property {CryptoKey} [key] only where it is open
 * @property {Who} [person] who unlocked it last
 * @property {"passphrase" | "pin"} [how]
 * @property {boolean} [hasPin]
 * @property {number} [left] tries of the PIN
 * @property {Shown | null} [shown]
 *
 * @typedef {{lines: string[]}} Shown what a locked screen may show: figures, no name
 */

const SPEAK_EVERY_MS = 15_000;
const CLOSES_WITHIN_MS = 2000;
const ASK_EVERY_MS = 100;

/** @type {Vault} */
const NONE = { state: "none" };

/**
 * Ask whether somebody unlocked this tablet.
 * @returns {Promise<Vault>}
 */
export function lookInVault() {
  return ask({ ask: "state" });
}

/**
 * Return the data key, where somebody unlocked it.
 * @returns {Promise<CryptoKey | null>}
 */
export async function heldKey() {
  return (await lookInVault()).key ?? null;
}

/**
 * Give the key into the worker's memory.
 * @param {CryptoKey} key
 * @param {Who} person
 * @returns {Promise<boolean>} false: no worker took it
 */
export async function holdKey(key, person) {
  return (await ask({ ask: "hold", key, person })).state === "open";
}

/**
 * Lock: the key stays behind its PIN, or goes.
 * @param {Shown | null} shown
 * @returns {Promise<Vault>} "failed": a worker is there and does not answer
 */
export function lockVault(shown) {
  return ask({ ask: "lock", shown });
}

/**
 * Let go of a key, such as one that is not this tablet's any more.
 * @returns {Promise<Vault>}
 */
export function dropVault() {
  return ask({ ask: "drop" });
}

/**
 * Set the PIN that opens it again until the browser ends; "" takes it away.
 * @param {string} digits 4 to 8
 * @returns {Promise<Vault>}
 */
export function setPin(digits) {
  return ask({ ask: "pin", digits });
}

/**
 * @param {string} digits
 * @returns {Promise<Vault>}
 */
export function tryPin(digits) {
  return ask({ ask: "try", digits });
}

/**
 * Count the windows of this tablet, this one with them.
 * @returns {Promise<number>} 0: there is no worker to ask
 */
export async function countWindows() {
  const { count } = /** @type {{count?: number}} */ (/** @type {unknown} */ (await ask({ ask: "windows" })));
  return count ?? 0;
}

/**
 * Tell whether this is the only window of this tablet. One that was closed just now is
 * counted by the browser a moment longer, and waited for.
 * @returns {Promise<boolean>}
 */
export async function isOnlyWindow() {
  const late = performance.now() + CLOSES_WITHIN_MS;
  while ((await countWindows()) > 1) {
    if (performance.now() > late) return false;
    await new Promise((asked) => setTimeout(asked, ASK_EVERY_MS));
  }
  return true;
}

/** Keep the worker from being ended, as long as this page stands. */
export function keepVault() {
  setInterval(() => void ask({ ask: "state" }), SPEAK_EVERY_MS);
}

/**
 * Wait until a worker is there to hold a key, at most as long as an answer may take.
 * @returns {Promise<boolean>}
 */
export async function vaultReady() {
  const workers = navigator.serviceWorker;
  if (!workers) return false;
  const late = new Promise((resolve) => setTimeout(resolve, ANSWER_WITHIN_MS, null));
  return (await Promise.race([workers.ready, late])) !== null;
}

/**
 * @param {object} what
 * @returns {Promise<Vault>}
 */
async function ask(what) {
  const told = await askWorker("vault", what);
  if (told === "none") return NONE;
  return told === "silent" ? { state: "failed" } : /** @type {Vault} */ (told);
}
