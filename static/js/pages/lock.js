/** @import { Base, Store } from "../types.js" */
/** @import { Vault } from "../sw-vault.js" */
import { el, fill, the } from "../form/dom.js";
import { say, setWords } from "../form/say.js";
import { readClosed } from "../log/data-key.js";
import { openBase } from "../log/db.js";
import { openStore } from "../log/store.js";
import { fits, openWrap } from "../log/wraps.js";
import { hearWorkers, startShell } from "../sw-bridge.js";
import { dropVault, holdKey, keepVault, lookInVault, setPin, tryPin, vaultReady } from "../sw-vault.js";
import { loadCatalogue } from "../sync/catalogue.js";
import { startSync } from "../sync/loop.js";
import { watchByCode } from "./lock-by-code.js";
import { isPin, mayShow, problemAt } from "./lock-form.js";
import { watchByServer } from "./lock-by-server.js";
import { lockTold } from "./lock-told.js";
import { goFromLock } from "./lock-way.js";
import { themeNow, useTheme } from "./tablet-theme.js";

const byPin = /** @type {HTMLFormElement} */ (the("#by-pin"));
const byPassphrase = /** @type {HTMLFormElement} */ (the("#by-passphrase"));
const pin = /** @type {HTMLInputElement} */ (the("#pin"));
const newPin = /** @type {HTMLInputElement} */ (the("#new-pin"));
const passphrase = /** @type {HTMLInputElement} */ (the("#passphrase"));
const who = /** @type {HTMLSelectElement} */ (the("#who"));
const showPinProblem = problemAt("#pin-problem", [pin]);
const showProblem = problemAt("#problem", [passphrase, newPin]);

/** A locked tablet: it sends, shows nothing of any case, and asks who is there. */
async function begin() {
  useTheme(themeNow());
  const { say: words, policy } = await loadCatalogue();
  setWords(words);
  drawCard(String(policy.card ?? ""));
  const base = await openBase();
  const closed = await readClosed(base);
  if (!closed) return goFromLock();
  const tell = lockTold((told) => told === "open" && goFromLock());
  const vault = await lookInVault();
  if (vault.key && (await fits(vault.key, closed.tablet))) return goFromLock();
  // Of a database that was put back: it would lead from here to the tablet and back for ever.
  if (vault.key) await dropVault();
  fill(who, ...closed.people.map(({ who: value, person }) => el("option", { value }, person.name)));
  const opened = () => {
    tell("open");
    goFromLock();
  };
  byPin.addEventListener("submit", (event) => {
    event.preventDefault();
    void tryPinNow(opened);
  });
  byPassphrase.addEventListener("submit", (event) => {
    event.preventDefault();
    void tryPassphrase(base, opened);
  });
  for (const way of document.querySelectorAll("[data-way]")) {
    way.addEventListener("click", () => ask(/** @type {Way} */ (/** @type {HTMLElement} */ (way).dataset.way)));
  }
  mayShow(the("#show"), [passphrase]);
  addEventListener("pageshow", (event) => event.persisted && location.reload());
  drawVault(vault);
  keepVault();
  const worker = startShell().then(vaultReady);
  watchByServer(base, closed, worker, opened);
  await watchByCode(base, worker);
  const sending = openStore({ isForSync: true }).then(send);
  await worker;
  // Until here no worker could take the key.
  /** @type {HTMLButtonElement} */ (the("[type=submit]", byPassphrase)).disabled = false;
  await sending;
}

/** The hospital's card names nobody, and a loss of capture waits for no passphrase. @param {string} card */
function drawCard(card) {
  const lines = card.split("\n").filter((line) => line.trim());
  the("#card").hidden = !lines.length;
  fill(the("#card-lines"), ...lines.map((line) => el("li", {}, line.trim())));
}

/** @param {Vault} vault */
function drawVault({ state, person, shown }) {
  fill(the("#shown"), ...(shown?.lines ?? []).map((line) => el("li", {}, line)));
  the("#pin-person").textContent = person?.name ?? "";
  ask(state === "pin" ? "pin" : "passphrase");
}

/** @typedef {"pin" | "passphrase" | "server"} Way */

/** @param {Way} way */
function ask(way) {
  byPin.hidden = way !== "pin";
  byPassphrase.hidden = way !== "passphrase";
  the("#by-server").hidden = way !== "server";
  (way === "pin" ? pin : way === "server" ? the("#login") : passphrase).focus();
}

/** @param {() => void} opened */
async function tryPinNow(opened) {
  const digits = pin.value;
  pin.value = "";
  if (!isPin(digits)) return showPinProblem(say("lock.pin_digits"));
  showPinProblem(say("lock.working"));
  const { state, left = 0 } = await tryPin(digits);
  if (state === "open") return opened();
  if (state === "pin") return showPinProblem(say(left === 1 ? "lock.pin_left_one" : "lock.pin_left", { count: left }));
  ask("passphrase");
  showProblem(say("lock.pin_gone"));
}

/** @param {Base} base @param {() => void} opened */
async function tryPassphrase(base, opened) {
  if (newPin.value && !isPin(newPin.value)) return showProblem(say("lock.pin_digits"));
  showProblem(say("lock.working"));
  // Read anew: it may have been changed in another window since this page was loaded.
  const closed = await readClosed(base);
  const row = closed?.people.find((one) => one.who === who.value);
  if (!closed || !row) return location.reload();
  const key = await openWrap(row, passphrase.value).catch(() => null);
  if (!key || !(await fits(key, closed.tablet))) return showProblem(say("lock.wrong"));
  // A right one does not wait here for somebody else's tap.
  passphrase.value = "";
  if (!(await holdKey(key, row.person))) return showProblem(say("lock.no_worker"));
  if (newPin.value) await setPin(newPin.value);
  newPin.value = "";
  opened();
}

/** @param {Store} store */
async function send(store) {
  const draw = async () => {
    const { words } = await store.status();
    the("#stands").textContent = say(words.key, words.args);
  };
  store.onChange(() => void draw());
  startSync(store);
  await draw();
}

hearWorkers();
begin().catch((error) => {
  the("#stands").textContent = say(error.say ?? "shell.failed");
  throw error;
});
