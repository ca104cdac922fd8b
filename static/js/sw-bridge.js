/** @import { Readiness, ShellList } from "./types.js" */

const SCRIPT = "/sw.js";
const SCOPE = "/tablet/";
const ANSWER_WITHIN_MS = 5000;

/** @type {Readiness} */
const NOT_READY = { ready: false, have: 0, want: 0, version: null, missing: [] };

/**
 * Register the worker that keeps the shell for use without network, and tell how far it got.
 * @param {object} listeners
 * @param {(readiness: Readiness) => void} [listeners.onReady] at the start and after each change
 * @param {(apply: () => void) => void} [listeners.onUpdate] a newer version waits; call `apply` only with
 *   consent and while no case is running: the page then loads again, once
 * @returns {Promise<void>}
 */
export async function startShell({ onReady = () => {}, onUpdate = () => {} } = {}) {
  const workers = navigator.serviceWorker;
  if (!workers) return onReady(NOT_READY);
  const tell = async () => onReady(await readiness());
  try {
    const registration = await workers.register(SCRIPT, { scope: SCOPE, updateViaCache: "none" });
    registration.addEventListener("updatefound", () => follow(registration, tell, onUpdate));
    follow(registration, tell, onUpdate);
    if (registration.waiting) offer(registration.waiting, onUpdate);
  } catch (error) {
    // Without network, or when a file of the shell is missing: an older version may still stand.
    if (!(error instanceof TypeError) && !(error instanceof DOMException)) throw error;
  }
  workers.addEventListener("controllerchange", tell);
  await tell();
}

/**
 * Tell whether the page would open without network, from what the cache really holds.
 * @returns {Promise<Readiness>}
 */
export async function readiness() {
  const registration = await navigator.serviceWorker?.getRegistration(SCOPE);
  const shell = registration?.active ? await listOf(registration.active) : null;
  if (!shell) return NOT_READY;
  const { version, cache: name, shell: files } = shell;
  const cache = (await caches.has(name)) ? await caches.open(name) : null;
  const have = new Set((await cache?.keys())?.map(({ url }) => new URL(url).pathname));
  const missing = files.filter((path) => !have.has(path));
  if (missing.length) registration?.active?.postMessage({ type: "fill" });
  return { ready: !missing.length, have: files.length - missing.length, want: files.length, version, missing };
}

/**
 * @param {ServiceWorkerRegistration} registration
 * @param {() => void} tell
 * @param {(apply: () => void) => void} onUpdate
 */
function follow(registration, tell, onUpdate) {
  const worker = registration.installing;
  worker?.addEventListener("statechange", () => {
    if (worker.state === "installed" && registration.active) offer(worker, onUpdate);
    tell();
  });
}

/**
 * @param {ServiceWorker} worker
 * @param {(apply: () => void) => void} onUpdate
 */
function offer(worker, onUpdate) {
  onUpdate(() => {
    navigator.serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
    worker.postMessage({ type: "update" });
  });
}

/**
 * Ask a worker which files make up its shell; an older one may not answer.
 * @param {ServiceWorker} worker
 * @returns {Promise<ShellList | null>}
 */
function listOf(worker) {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    setTimeout(() => resolve(null), ANSWER_WITHIN_MS);
    port1.onmessage = ({ data }) => resolve(data?.type === "shell" ? data : null);
    worker.postMessage({ type: "shell" }, [port2]);
  });
}
