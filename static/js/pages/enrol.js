/** @import { Readiness, Store } from "../types.js" */
import { say, setWords } from "../form/say.js";
import { StoreProblem } from "../log/problem.js";
import { openStore } from "../log/store.js";
import { hearWorkers, startShell } from "../sw-bridge.js";
import { loadCatalogue } from "../sync/catalogue.js";
import { SignInProblem, enrol } from "../sync/token.js";
import { shellWords } from "./shell-words.js";

const form = /** @type {HTMLFormElement} */ (document.querySelector(".enrol-form"));
const code = /** @type {HTMLInputElement} */ (document.querySelector("#code"));
const key = /** @type {HTMLButtonElement} */ (form.querySelector("button"));
const start = /** @type {HTMLElement} */ (document.querySelector(".enrol-start"));

/**
 * @param {string} place
 * @param {string} text
 */
function show(place, text) {
  const element = document.querySelector(place);
  if (element) element.textContent = text;
}

/** @param {string} text empty: nothing is wrong */
function showProblem(text) {
  show(".enrol-problem", text);
  code.setAttribute("aria-invalid", String(text !== ""));
}

/** @param {Readiness} readiness */
function showReady(readiness) {
  show(".enrol-ready", shellWords(readiness));
}

/** @param {Store} store */
async function showState(store) {
  const enrolment = await store.enrolment();
  if (!enrolment) return;
  show(".enrol-state", say("enrol.is_now", { tablet: enrolment.tablet.name, hospital: enrolment.hospital }));
  start.hidden = false;
}

/** @param {Store} store */
async function submit(store) {
  if (!code.value.trim()) return showProblem(say("enrol.missing"));
  try {
    const { tablet, hospital } = await enrol(store, code.value);
    showProblem("");
    show(".enrol-state", say("enrol.done", { tablet: tablet.name, hospital }));
    start.hidden = false;
    start.focus();
    location.assign(start.getAttribute("href") ?? "/tablet/");
  } catch (error) {
    if (!(error instanceof SignInProblem)) throw error;
    showProblem(say(`enrol.${error.code}`));
  }
}

async function begin() {
  setWords((await loadCatalogue()).say);
  // A tablet that is locked may be enrolled anew all the same.
  const store = await openStore({ isForSync: true, onBlocked: () => showProblem(say("store.blocked")) });
  showProblem("");
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    submit(store);
  });
  // Until here the browser itself would send the form: the code would go with the page.
  key.disabled = false;
  await showState(store);
  await startShell({ onReady: showReady });
}

hearWorkers();
begin().catch((problem) => {
  if (!(problem instanceof StoreProblem)) throw problem;
  showProblem(say(problem.say));
});
