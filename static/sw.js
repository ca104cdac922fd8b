// Served as /sw.js: there these two lines hold the hash of every shell file, and their list.
const VERSION = "unversioned";
/** @type {string[]} */
const SHELL = [];

importScripts("/static/worker/codes.js", "/static/worker/vault.js"); // hold keys: of cases begun without unlocking, the tablet's
const PREFIX = "wiremark-shell-";
const CACHE = PREFIX + VERSION;
const PAGE = "/tablet/";
const ANSWER_WITHIN_MS = 5000;
const worker = /** @type {ServiceWorkerGlobalScope} */ (/** @type {unknown} */ (self));

worker.addEventListener("install", (event) => {
  event.waitUntil(install());
  // Where the browser can, files come straight from the cache, without waking this worker.
  // any: the type library does not know routes yet.
  const { addRoutes } = /** @type {any} */ (event);
  const route = (/** @type {string} */ pathname) => ({ condition: { urlPattern: { pathname } }, source: { cacheName: CACHE } });
  addRoutes?.call(event, ["/static/*", "/tablet/tablet.*", "/catalogue.json"].map(route));
});

worker.addEventListener("activate", (event) => {
  event.waitUntil(takeOver());
});

worker.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== worker.location.origin) return;
  if (request.mode === "navigate") {
    if (url.pathname.startsWith(PAGE)) event.respondWith(kept(request, url.pathname, PAGE));
  } else if (SHELL.includes(url.pathname)) {
    event.respondWith(kept(request, url.pathname));
  }
});

worker.addEventListener("message", (event) => {
  if (event.data?.type === "update") worker.skipWaiting();
  // The browser may take the cache away from under a running worker.
  if (event.data?.type === "fill") event.waitUntil(refill().catch(() => {}));
  if (event.data?.type === "shell") {
    event.ports[0]?.postMessage({ type: "shell", version: VERSION, cache: CACHE, shell: SHELL });
  }
});

/**
 * All files or none: a half-filled cache would look installed. One that waited would come
 * by itself when the tablet starts again in mid-case: not wanted yet is not installed.
 */
async function install() {
  const answers = worker.registration.active ? await asked() : ["now"];
  const isWanted = answers.includes("now");
  // Pages older than this question let a new version wait, and offer it themselves.
  if (!isWanted && (!answers.length || answers.includes("later"))) throw new Error("not wanted yet");
  try {
    await fill();
  } catch (error) {
    await caches.delete(CACHE);
    throw error;
  }
}

/** @returns {Promise<(string | null)[]>} of every page of the tablet; null: it does not say */
async function asked() {
  const pages = await worker.clients.matchAll({ type: "window", includeUncontrolled: true });
  const ours = pages.filter(({ url }) => new URL(url).pathname.startsWith(PAGE));
  return Promise.all(ours.map((client) => new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    setTimeout(() => resolve(null), ANSWER_WITHIN_MS);
    port1.onmessage = ({ data }) => resolve(String(data));
    client.postMessage({ type: "newer", version: VERSION }, [port2]);
  })));
}

async function fill() {
  const responses = await Promise.all(SHELL.map(fetched));
  const cache = await caches.open(CACHE);
  await Promise.all(responses.map((response, n) => cache.put(SHELL[n], response)));
  const have = (await cache.keys()).map(({ url }) => new URL(url).pathname);
  const missing = SHELL.filter((path) => !have.includes(path));
  if (missing.length) throw new Error(`not kept: ${missing.join(", ")}`);
}

/** The server may have gone on: newer files do not go with this version's. */
async function refill() {
  const script = await (await fetched("/sw.js")).text();
  if (script.includes(`"${VERSION}"`)) await fill();
}

/**
 * Fetch past the browser's own cache, or a new version fills up with old bytes.
 * @param {string} path
 * @returns {Promise<Response>}
 */
async function fetched(path) {
  const response = await fetch(path, { cache: "reload", credentials: "omit" });
  if (!response.ok || response.redirected || response.type !== "basic") {
    throw new Error(`${path}: ${response.status}`);
  }
  return response;
}

async function takeOver() {
  const old = (await caches.keys()).filter((name) => name.startsWith(PREFIX) && name !== CACHE);
  await Promise.all(old.map((name) => caches.delete(name)));
  await worker.clients.claim();
}

/**
 * Every address within the scope is the shell, whatever query a home screen adds.
 * @param {Request} request
 * @param {...string} paths the first that is here
 * @returns {Promise<Response>}
 */
async function kept(request, ...paths) {
  const cache = await caches.open(CACHE);
  const found = await Promise.all(paths.map((path) => cache.match(path)));
  return found.find((response) => response) ?? fetch(request);
}
