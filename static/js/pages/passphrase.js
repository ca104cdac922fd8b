/** @import { Base, Person, Who } from "../types.js" */
/** @import { Closed } from "../log/data-key.js" */
import { el, fill, the } from "../form/dom.js";
import { say, setWords } from "../form/say.js";
import { readClosed } from "../log/data-key.js";
import { openBase } from "../log/db.js";
import { drawWords, wordsInList, yearsToGuess } from "../log/four-words.js";
import { whileUnused } from "../log/key-in-use.js";
import { readMeta } from "../log/meta.js";
import { readyLog } from "../log/outbox.js";
import { LockProblem, setAnother, setFirst } from "../log/rewrap.js";
import { WrongPassphrase, plainPassphrase } from "../log/wraps.js";
import { hearWorkers, startShell } from "../sw-bridge.js";
import { holdKey, isOnlyWindow, lookInVault, vaultReady } from "../sw-vault.js";
import { loadCatalogue } from "../sync/catalogue.js";
import { mayShow, problemAt } from "./lock-form.js";
import { lockTold } from "./lock-told.js";
import { goToLock } from "./lock-way.js";
import { watchOpen, watchPin } from "./passphrase-open.js";
import { themeNow, useTheme } from "./tablet-theme.js";

/** The database of the tablet; a rehearsal's has no lock. */
const TABLET = "wiremark";
/** Shorter than this a guesser needs no luck. */
const LEAST_LETTERS = 12;
/** What the hint reckons with; what one machine tries is measured by tests/bench/guess_bench.py. */
const GUESSES_PER_S = 1000;

/** @typedef {"first" | "change" | "another"} Mode */

const field = (/** @type {string} */ id) => /** @type {HTMLInputElement} */ (the(`#${id}`));
const [name, current, next, again] = ["name", "current", "next", "again"].map(field);
const showProblem = problemAt("#problem", [name, current, next, again]);
/** @type {Mode} */
let mode = "first";

/** Set the first passphrase, change one's own, add one more person, set the PIN. */
async function begin() {
  useTheme(themeNow());
  setWords((await loadCatalogue()).say);
  const base = await openBase();
  if (!base.older) await readyLog(base);
  /** @type {{used: () => void} | null} */
  let idle = null;
  const tell = lockTold((told) => {
    if (told === "lock") goToLock();
    if (told === "used") idle?.used();
  });
  const vault = await lookInVault();
  const closed = await readClosed(base);
  if (closed && vault.state !== "open") return goToLock();
  const people = (await readMeta(base, "people"))?.list ?? [];
  fill(the("#people"), ...people.map((person) => el("option", { value: person.name }, person.role)));
  the("#next-hint").textContent = say("lock.new_hint", { count: LEAST_LETTERS });
  the("#words-hint").textContent = say("lock.four_words_hint", { count: wordsInList(), per_s: GUESSES_PER_S, years: yearsToGuess(GUESSES_PER_S) });
  const words = () => {
    the("#words").textContent = drawWords();
    the("#words-hint").hidden = false;
    the("#other-words").textContent = say("lock.other_words");
  };
  // Beside a passphrase that is set four other words would be taken for it, and written down.
  if (!closed) words();
  the("#other-words").addEventListener("click", words);
  mayShow(the("#show"), [current, next, again]);
  for (const key of document.querySelectorAll("[data-mode]")) {
    key.addEventListener("click", () => turn(/** @type {Mode} */ (/** @type {HTMLElement} */ (key).dataset.mode)));
  }
  the("#setting").addEventListener("submit", (event) => {
    event.preventDefault();
    const by = vault.person ?? { person: null, name: "", role: "" };
    void keep(base, people, by, () => tell("rekeyed")).catch(told);
  });
  watchPin();
  draw(closed);
  if (closed) idle = watchOpen(base, tell);
  turn(closed ? "change" : "first");
  await startShell();
}

/** @param {Closed | null} closed */
function draw(closed) {
  const names = closed?.people.map(({ person }) => person.name).join(", ") ?? "";
  the("#state").textContent = closed ? say("lock.people", { names }) : say("lock.is_open");
  the("#modes").hidden = the("#pin-form").hidden = !closed;
  the("#setting").hidden = false;
}

/** @param {Mode} to */
function turn(to) {
  mode = to;
  for (const part of document.querySelectorAll(".lock-field[data-for]")) {
    /** @type {HTMLElement} */ (part).hidden = !/** @type {HTMLElement} */ (part).dataset.for?.split(" ").includes(to);
  }
  for (const key of document.querySelectorAll("[data-mode]")) key.setAttribute("aria-pressed", String(/** @type {HTMLElement} */ (key).dataset.mode === to));
}

/**
 * @param {Base} base
 * @param {Person[]} people
 * @param {Who} by whoever unlocked it
 * @param {() => void} rekeyed
 */
async function keep(base, people, by, rekeyed) {
  const said = plainPassphrase(next.value);
  const person = mode === "change" ? by : personOf(people, name.value.trim());
  if (!person.name) return showProblem(say("lock.name_missing"));
  if ([...said].length < LEAST_LETTERS) return showProblem(say("lock.at_least", { count: LEAST_LETTERS }));
  if (said !== plainPassphrase(again.value)) return showProblem(say("lock.again_other"));
  // A page that is older than the database does not know what it would write over.
  if (base.older) throw new LockProblem("changed");
  showProblem(say("lock.working"));
  if (mode === "first") {
    if (!(await vaultReady())) return showProblem(say("lock.no_worker"));
    if (!(await isOnlyWindow())) throw new LockProblem("windows");
    const made = await whileUnused(TABLET, () => setFirst(base, person, said));
    if (!made) throw new LockProblem("windows");
    await holdKey(made, person);
    rekeyed();
    return location.reload();
  }
  await setAnother(base, by, current.value, person, said);
  for (const one of [name, current, next, again]) one.value = "";
  showProblem("");
  draw(await readClosed(base));
  the("#state").textContent += ` ${say(`lock.done_${mode}`, { name: person.name })}`;
}

/** @param {Person[]} people @param {string} said @returns {Who} */
function personOf(people, said) {
  const known = people.find((person) => person.name === said);
  return { person: known?.id ?? null, name: said, role: known?.role ?? "" };
}

/** @param {unknown} error */
function told(error) {
  if (!(error instanceof LockProblem) && !(error instanceof WrongPassphrase)) throw error;
  showProblem(say(error.say));
}

hearWorkers();
begin().catch((error) => {
  the("#state").textContent = say(error.say ?? "shell.failed");
  throw error;
});
