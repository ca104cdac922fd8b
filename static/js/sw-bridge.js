/** @import { Readiness, ShellList } from "./types.js" */
import { handOver } from "./sw-ask.js";

const SCRIPT = "/sw.js";
const SCOPE = "/tablet/";
const ANSWER_WITHIN_MS = 5000;
/** A page that stays open for weeks learns of a newer version too. */
const LOOK_EVERY_MS = 60 * 60_000;

/** @type {Readiness} */
const NOT_READY = { ready: false, have: 0, want: 0, version: null, missing: [] };

/**
 * Register the worker that keeps the shell for use without network, and tell how far it got.
 * @param {object} listeners
 * @param {(readiness: Readiness) => void} [listeners.onReady] at the start and after each change
 * @param {(apply: () => Promise<boolean>) => void} [listeners.onUpdate] there is a newer version; call `apply`
 *   only with consent and while no case is running: it is fetched whole, then the page loads again, once;
 *   false: it could not be had, and the older one stays
 * @returns {Promise<void>}
 */
export async function startShell({ onReady = () => {}, onUpdate = () => {} } = {}) {
  const workers = navigator.serviceWorker;
  if (!workers) return onReady(NOT_READY);
  const tell = async () => onReady(await readiness());
  hearWorkers();
  newer.tell = onUpdate;
  if (newer.isThere) onUpdate(fetchNewer);
  try {
    const registration = await workers.register(SCRIPT, { scope: SCOPE, updateViaCache: "none" });
    registration.addEventListener("updatefound", () => follow(registration, tell, onUpdate));
    follow(registration, tell, onUpdate);
    if (registration.waiting) offer(registration.waiting, onUpdate);
    setInterval(() => void registration.update().catch(() => {}), LOOK_EVERY_MS);
  } catch (error) {
    // Without network, or when a file of the shell is missing: an older version may still stand.
    if (!(error instanceof TypeError) && !(error instanceof DOMException)) throw error;
  }
  workers.addEventListener("controllerchange", tell);
  await tell();
}

/** What newer versions that ask are answered, and who is told of them. */
const newer = { isHeard: false, isThere: false, isWanted: false, tell: (/** @type {() => Promise<boolean>} */ _apply) => {} };

/**
 * Answer newer versions from now on. Each asks before it is installed, and without consent
 * it is not: it would come by itself when the browser starts again in the middle of a
 * case. Called as soon as a page runs: a question without an answer counts as an older
 * page's consent to let the new version wait.
 */
export function hearWorkers() {
  const workers = navigator.serviceWorker;
  if (!workers || newer.isHeard) return;
  newer.isHeard = true;
  workers.addEventListener("message", ({ data, ports }) => {
    if (data?.type !== "newer") return;
    ports[0]?.postMessage(newer.isWanted ? "now" : "later");
    newer.isThere = true;
    if (!newer.isWanted) newer.tell(fetchNewer);
  });
  workers.startMessages();
}

/** @returns {Promise<boolean>} false: it could not be had */
async function fetchNewer() {
  const workers = navigator.serviceWorker;
  const registration = await workers.getRegistration(SCOPE);
  newer.isWanted = true;
  workers.addEventListener("controllerchange", reload);
  const isHad = (await registration?.update().then(installed, () => false)) ?? false;
  newer.isWanted = false;
  // A worker that is asked something in the very moment it is to end never ends.
  await readiness().then(() => handOver(registration));
  registration?.waiting?.postMessage({ type: "update" });
  if (!isHad) workers.removeEventListener("controllerchange", reload);
  return isHad;
}

const reload = () => location.reload();

/**
 * @param {ServiceWorkerRegistration} registration just updated
 * @returns {Promise<boolean>} whether the new worker got in
 */
function installed({ installing, waiting }) {
  return new Promise((resolve) => {
    if (!installing) return resolve(waiting !== null);
    const look = () => installing.state !== "installing" && resolve(installing.state !== "redundant");
    installing.addEventListener("statechange", look);
    look();
  });
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
 * @param {(apply: () => Promise<boolean>) => void} onUpdate
 */
function follow(registration, tell, onUpdate) {
  const worker = registration.installing;
  worker?.addEventListener("statechange", () => {
    if (worker.state === "installed" && registration.active) offer(worker, onUpdate);
    tell();
  });
}

/**
 * One that waits was let in by a page that is older than the question.
 * @param {ServiceWorker} worker
 * @param {(apply: () => Promise<boolean>) => void} onUpdate
 */
function offer(worker, onUpdate) {
  onUpdate(async () => {
    navigator.serviceWorker.addEventListener("controllerchange", reload, { once: true });
    await handOver(await navigator.serviceWorker.getRegistration(SCOPE));
    worker.postMessage({ type: "update" });
    return true;
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
