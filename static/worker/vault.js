// Part of sw.js, in a scope of its own: the one place in which the tablet's data key outlives
// a page, in memory only. When the browser ends this worker the key is gone, and a passphrase
// is asked for.
(() => {
  const MOST_TRIES = 5;
  const ROUNDS = 600_000;
  /** So long a page may be silent: a hidden one wakes once a minute. */
  const STAY_MS = 100_000;
  const vault = /** @type {ServiceWorkerGlobalScope & {isVaultOpen?: () => boolean, holdsCodes?: () => boolean}} */ (/** @type {unknown} */ (self));

  /** @typedef {{person: string | null, name: string, role: string}} Who */
  /** @typedef {{key: CryptoKey, person: Who, how: "passphrase" | "pin"}} Held */
  /** @typedef {{salt: Uint8Array<ArrayBuffer>, bits: Uint8Array, left: number}} Pin left: tries */
  /** @typedef {{held: Held | null, isLocked: boolean, pin: Pin | null, shown: unknown}} Contents shown: what a lock page may show */

  /** @type {Contents} */
  let now = empty();
  let isGiven = false;
  let leave = () => {};

  // What cases without unlocking lie under is given to nobody else (codes.js).
  vault.isVaultOpen = () => now.held !== null && !now.isLocked;

  vault.addEventListener("message", (event) => {
    const { data, ports, source } = event;
    // The desk's pages are of the same origin, and have no business here.
    if (data?.type !== "vault" || !(source instanceof WindowClient) || !isTablet(source.url)) return;
    if (data.ask === "give") return give(ports[0]);
    if (data.ask === "take") return take(ports[0], ports[1]);
    const work = answer(data).then((told) => ports[0]?.postMessage(told), () => ports[0]?.postMessage({ state: "failed" }));
    event.waitUntil(work);
    stay(event);
  });

  /** @returns {Contents} */
  function empty() {
    return { held: null, isLocked: false, pin: null, shown: null };
  }

  /** @param {any} asked any: told apart here @returns {Promise<object>} */
  async function answer({ ask, key, person, digits, shown }) {
    if (ask === "hold") now = { ...empty(), held: { key, person, how: "passphrase" } };
    if (ask === "lock") lock(shown ?? null);
    if (ask === "drop") now = empty();
    if (ask === "pin") await setPin(String(digits));
    if (ask === "try") await tryPin(String(digits));
    if (ask === "windows") return { count: await countWindows() };
    return told();
  }

  /** A locked key is told to nobody. */
  function told() {
    const { held, isLocked, pin, shown } = now;
    if (!held) return { state: "none", shown };
    if (!isLocked) return { state: "open", ...held, hasPin: pin !== null };
    return { state: "pin", person: held.person, left: pin?.left ?? 0, shown };
  }

  /** @param {unknown} shown without a PIN nothing but a passphrase opens it again */
  function lock(shown) {
    now = now.held && now.pin ? { ...now, isLocked: true, shown } : { ...empty(), shown };
  }

  /** @param {string} digits "": none any more */
  async function setPin(digits) {
    if (!now.held || now.isLocked) return;
    if (digits && !/^\d{4,8}$/.test(digits)) throw new RangeError("a PIN has 4 to 8 digits");
    const { held } = now;
    const salt = crypto.getRandomValues(new Uint8Array(16));
    const pin = digits ? { salt, bits: await bitsOf(digits, salt), left: MOST_TRIES } : null;
    // Locked or changed while it was worked out.
    if (now.held === held && !now.isLocked) now = { ...now, pin };
  }

  /** Counted before it is worked out: many at once are many tries. @param {string} digits */
  async function tryPin(digits) {
    const { held, pin } = now;
    if (!held || !pin || !now.isLocked || pin.left < 1) return;
    pin.left -= 1;
    const bits = await bitsOf(digits, pin.salt);
    if (now.pin !== pin) return;
    const isRight = bits.reduce((wrong, byte, n) => wrong | (byte ^ pin.bits[n]), 0) === 0;
    if (isRight) now = { held: { ...held, how: "pin" }, isLocked: false, pin: { ...pin, left: MOST_TRIES }, shown: null };
    else if (pin.left < 1) now = { ...empty(), shown: now.shown };
  }

  /** @param {string} digits @param {Uint8Array<ArrayBuffer>} salt @returns {Promise<Uint8Array>} */
  async function bitsOf(digits, salt) {
    const secret = await crypto.subtle.importKey("raw", new TextEncoder().encode(digits), "PBKDF2", false, ["deriveBits"]);
    return new Uint8Array(await crypto.subtle.deriveBits({ name: "PBKDF2", hash: "SHA-256", salt, iterations: ROUNDS }, secret, 256));
  }

  /** Windows of the tablet, of whatever version; a rehearsal holds nothing of it. */
  async function countWindows() {
    const pages = await vault.clients.matchAll({ type: "window", includeUncontrolled: true });
    return pages.filter(({ url }) => isTablet(url) && new URL(url).pathname !== "/tablet/rehearsal").length;
  }

  /** @param {string} url */
  function isTablet(url) {
    return new URL(url).pathname.startsWith("/tablet/");
  }

  /** While pages speak the browser is kept from ending this worker. @param {ExtendableMessageEvent} event */
  function stay(event) {
    leave();
    if (isGiven || !(now.held || vault.holdsCodes?.())) return;
    event.waitUntil(new Promise((resolve) => {
      const late = setTimeout(resolve, STAY_MS);
      leave = () => {
        clearTimeout(late);
        resolve(undefined);
      };
    }));
  }

  /** To a newer version's worker, which could not begin while this one stays. @param {MessagePort | undefined} port */
  function give(port) {
    port?.postMessage(now);
    isGiven = true;
    leave();
  }

  /** @param {MessagePort | undefined} told @param {MessagePort | undefined} way */
  function take(told, way) {
    if (!told || !way) return;
    way.onmessage = ({ data }) => {
      now = data;
      told.postMessage("taken");
    };
  }
})();
