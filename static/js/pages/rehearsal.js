/** @import { Bedside, CaseRead } from "../types-form.js" */
import { el, fill, the } from "../form/dom.js";
import { say } from "../form/say.js";
import { monitor } from "../live/monitor.js";
import { zoneAt } from "../log/zone-at.js";
import { monitorOf } from "../rehearsal/patient.js";
import { SCRIPTS } from "../rehearsal/scripts.js";
import { doneIn } from "../rehearsal/told.js";
import { inHand } from "./rehearsal-hand.js";

const ADDRESS = "/tablet/rehearsal";
const REHEARSED = "wiremark-rehearsal";
const REAL = "wiremark";

/** Tell whether this page rehearses: it then works in a database of its own. */
export function isRehearsal() {
  return location.pathname === ADDRESS;
}

/**
 * Return the name of the database this page works in. The one of rehearsals has no
 * enrolment, so that nothing of it can be sent.
 * @returns {string}
 */
export function baseName() {
  return isRehearsal() ? REHEARSED : REAL;
}

/**
 * Return the zone that the record of patients is told in: a rehearsal's clock is the same.
 * @returns {Promise<string | null>}
 */
export function siteZone() {
  return zoneAt(REAL);
}

/**
 * Return who is here in a rehearsal: what asks for a name has one, and no real person's.
 * @returns {import("../types.js").Who}
 */
export function rehearser() {
  return { person: null, name: say("rehearsal.you"), role: "" };
}

/**
 * Return the words of the screens; a rehearsal says how one is run.
 * @param {{[key: string]: string}} words
 * @returns {{[key: string]: string}}
 */
export function wordsHere(words) {
  if (!isRehearsal()) return words;
  const [how, unsent] = ["rehearsal.how", "rehearsal.never_sent"].map((name) => words[name] ?? "");
  return { ...words, "start.none_more": how ?? "", "strip.not_enrolled": unsent ?? "" };
}

/**
 * Return the script that a case was begun with, or null: its working name holds it.
 * @param {CaseRead} now
 */
export function scriptOf(now) {
  const alias = now.answer("patient.alias").value;
  return SCRIPTS.find(({ name }) => alias === say(`rehearsal.alias.${name}`)) ?? null;
}

/** Mark the page for what it is, on both rulers and round it all. */
export function markRehearsal() {
  if (!isRehearsal()) return;
  document.documentElement.dataset.rehearsal = "";
  for (const at of document.querySelectorAll(".rehearsal-word")) {
    at.textContent = say(at.classList.contains("on-rope") ? "rehearsal.word_short" : "rehearsal.word");
    /** @type {HTMLElement} */ (at).hidden = false;
  }
}

/**
 * Draw the scripted patient's monitor as it looks now.
 * @param {Bedside} bed
 */
export function drawMonitor(bed) {
  if (!isRehearsal()) return;
  watchHand(bed);
  const script = scriptOf(bed.now);
  const at = the("#monitor");
  at.hidden = !script;
  if (!script) return;
  const shown = monitorOf(script, doneIn(bed.now), inHand(bed));
  const rate = script.own_rate_per_min ? say("rehearsal.own_rate", { rate: script.own_rate_per_min }) : say("rehearsal.no_own");
  const words = say("rehearsal.monitor");
  fill(at, monitor(shown, words), el("span", { class: "monitor-said" }, el("b", {}, words), el("small", {}, rate)));
}

let isWatched = false;

/** What is in hand changes with a tap and without an entry. @param {Bedside} bed */
function watchHand(bed) {
  if (isWatched) return;
  isWatched = true;
  the("#panel").addEventListener("click", () => setTimeout(() => drawMonitor(bed)));
}
