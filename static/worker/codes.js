// Part of sw.js, in a scope of its own: keys of cases that were begun without unlocking, in
// memory only. Four digits open such a case again until it is finished or the browser ends
// this worker; after that it can be written to and sent, and not be read.
(() => {
  const MOST_TRIES = 5;
  const LOWEST = 1000;
  const scope = /** @type {ServiceWorkerGlobalScope & {isVaultOpen?: () => boolean, holdsCodes?: () => boolean}} */ (/** @type {unknown} */ (self));

  /** @typedef {{id: string, log: string, raw: Uint8Array<ArrayBuffer>, key: CryptoKey, isAdopted?: boolean}} CaseKey isAdopted: it lies under the tablet's own key, too */
  /** @typedef {{code: string, isOpen: boolean, left: number, keys: CaseKey[]}} CodeCase isOpen: since the tablet was last locked; left: tries */
  /** @typedef {{isIn: boolean, isLeft: boolean, cases: Map<string, CodeCase>, spare: CaseKey[]}} Contents isIn: somebody works without
   *   having unlocked; isLeft: it was locked since; spare: what no code opens any more, and whoever unlocks the tablet may have */

  /** @type {Contents} */
  let now = { isIn: false, isLeft: false, cases: new Map(), spare: [] };

  scope.holdsCodes = () => now.cases.size + now.spare.length > 0;

  scope.addEventListener("message", (event) => {
    const { data, ports, source } = event;
    // The desk's pages are of the same origin, and have no business here.
    if (data?.type !== "codes" || !(source instanceof WindowClient) || !new URL(source.url).pathname.startsWith("/tablet/")) return;
    if (data.ask === "give") return ports[0]?.postMessage(now);
    if (data.ask === "take") return take(ports[0], ports[1]);
    ports[0]?.postMessage(answer(data));
  });

  /** @param {any} asked any: told apart here @returns {object} */
  function answer({ ask, record, digits, key, over, ids, cases }) {
    if (ask === "enter") Object.assign(now, { isIn: true, isLeft: false });
    if (ask === "begin") return { code: begin(String(record)) };
    if (ask === "keep") return { isKept: keep(String(record), key) };
    if (ask === "try") return { record: tryCode(String(digits)), left: triesLeft() };
    if (ask === "restore") restore(cases);
    if (ask === "leave") leave(over ?? []);
    if (ask === "adopt") return { keys: scope.isVaultOpen?.() ? toAdopt() : [] };
    if (ask === "adopted") for (const one of everyKey()) one.isAdopted ||= ids.includes(one.id);
    return told();
  }

  /** Of a case that is not open nothing is told but that there is one. */
  function told() {
    const all = [...now.cases];
    const cases = all.filter(([, { isOpen }]) => isOpen).map(([record, { code, keys }]) => ({ record, code, keys }));
    const openable = all.filter(([, { isOpen, left }]) => isOpen || left > 0).map(([record]) => record);
    return { isIn: now.isIn, left: triesLeft(), cases, closed: all.length - cases.length, records: openable };
  }

  /** So many more may open something. */
  function triesLeft() {
    return Math.max(0, ...[...now.cases.values()].filter(({ isOpen }) => !isOpen).map(({ left }) => left));
  }

  /** @param {string} record @returns {string | null} its code; null: it has one already, or nobody came in */
  function begin(record) {
    const before = now.cases.get(record);
    if (!now.isIn || before?.isOpen || (before && before.left > 0)) return null;
    // Its code was tried too often: it is written to under a new one, and what was before stays closed.
    if (before) now.spare.push(...before.keys);
    const taken = new Set([...now.cases.values()].map(({ code }) => code));
    let code = draw();
    while (taken.has(code)) code = draw();
    now.cases.set(record, { code, isOpen: true, left: MOST_TRIES, keys: [] });
    return code;
  }

  /** Four digits, the first of them no nought. @returns {string} */
  function draw() {
    const [random = 0] = crypto.getRandomValues(new Uint32Array(1));
    return String(LOWEST + (random % (9 * LOWEST)));
  }

  /** @param {string} record @param {CaseKey} key @returns {boolean} */
  function keep(record, key) {
    const one = now.cases.get(record);
    if (!one?.isOpen) return false;
    one.keys.push(key);
    return true;
  }

  /** A page that works on has what the browser took away with the worker of before. @param {{record: string, code: string, keys: CaseKey[]}[]} cases */
  function restore(cases) {
    if (now.isLeft) return;
    for (const { record, code, keys } of cases) {
      if (!now.cases.has(record)) now.cases.set(record, { code, isOpen: true, left: MOST_TRIES, keys });
    }
    now.isIn ||= cases.length > 0;
  }

  /** One try is one for every case that is closed: who knows one code knows no other. @param {string} digits @returns {string | null} the case it opens */
  function tryCode(digits) {
    const closed = [...now.cases].filter(([, { isOpen, left }]) => !isOpen && left > 0);
    const found = closed.find(([, { code }]) => code === digits);
    for (const [, one] of found ? [] : closed) one.left -= 1;
    if (!found) return null;
    Object.assign(found[1], { isOpen: true, left: MOST_TRIES });
    Object.assign(now, { isIn: true, isLeft: false });
    return found[0];
  }

  /** @param {string[]} over cases that are finished: no code opens them any more */
  function leave(over) {
    for (const record of over) {
      now.spare.push(...(now.cases.get(record)?.keys ?? []));
      now.cases.delete(record);
    }
    for (const one of now.cases.values()) one.isOpen = false;
    Object.assign(now, { isIn: false, isLeft: true });
  }

  function everyKey() {
    return [...now.spare, ...[...now.cases.values()].flatMap(({ keys }) => keys)];
  }

  /** Whoever unlocked the tablet may try a code again, too. */
  function toAdopt() {
    for (const one of now.cases.values()) one.left = MOST_TRIES;
    return everyKey().filter(({ isAdopted }) => !isAdopted).map(({ id, raw }) => ({ id, raw }));
  }

  /** From the worker of an older version. @param {MessagePort | undefined} told @param {MessagePort | undefined} way */
  function take(told, way) {
    if (!told || !way) return;
    way.onmessage = ({ data }) => {
      now = data;
      told.postMessage("taken");
    };
  }
})();
