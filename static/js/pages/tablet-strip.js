/** @import { Status } from "../types.js" */
/** @import { Bedside } from "../types-form.js" */
import { el, fill, key } from "../form/dom.js";
import { elapsedWords } from "../form/elapsed.js";
import { say } from "../form/say.js";
import { icon } from "../live/icons.js";
import { lead } from "../live/lead.js";
import { identityHere } from "./tablet-identity.js";
import { lockKey } from "./tablet-lock.js";
import { noteWords } from "./tablet-note.js";
import { wireName } from "./tablet-wire.js";

/** Letters: a longer fact breaks where it must. */
const LONG_FACT = 24;

/**
 * Longer names are set smaller, then smaller again, and never cut; one that would
 * cover the work is scrolled.
 * @type {[number, string][]}
 */
const LENGTHS = [[160, "endless"], [60, "very"], [24, "some"]];

/**
 * Draw the inverted block, name and facts of a case.
 * @param {import("../form/identity.js").Identity} who
 * @returns {HTMLElement[]}
 */
export function whoBlocks(who) {
  const long = LENGTHS.find(([letters]) => who.name.length > letters)?.[1] ?? null;
  return [
    el("div", { class: "place" }, el("small", {}, who.placeName), who.place),
    el(
      "div",
      { class: "who", "data-long": long },
      el("b", { class: "who-name", tabindex: long === "endless" ? "0" : null }, who.name),
      el("span", { class: "who-facts" }, ...unbroken(who.facts)),
    ),
  ];
}

/** "no." and its number, a day and its year: each fact stays on one line. @param {string} facts */
function unbroken(facts) {
  return facts.split(" · ").flatMap((one, at) => [at ? " · " : "", one.length > LONG_FACT ? one : el("span", { class: "nobreak" }, one)]);
}

/**
 * Draw where the entries are, in words, and the weightiest thing there is to know.
 * @param {Status} status
 * @param {() => void} onTap
 * @param {boolean} [isShort] where the note stands elsewhere
 * @returns {HTMLElement}
 */
export function storeBlock(status, onTap, isShort = false) {
  const note = status.notes[0];
  const words = say(status.words.key, status.words.args);
  const made = el(
    "button",
    { type: "button", class: "store", "data-state": status.unsent ? "unsent" : "on_server", "data-act": "storage" },
    note ? lead("look_again") : icon(status.unsent || !status.total ? "tablet" : "server"),
    el("span", {}, words),
    note && !isShort ? el("small", {}, noteWords(note)) : null,
  );
  made.addEventListener("click", onTap);
  return made;
}

/**
 * Draw a case's strip: who, minutes, the standing number that is not on this screen,
 * storage, and the two keys.
 * @param {HTMLElement} at
 * @param {Bedside} bed
 * @param {Status} status
 * @param {{startMs: number, isDecision: boolean, number: HTMLElement | null, onWho: () => void, onStore: () => void, onMoments: () => void}} facts
 */
export function drawStrip(at, bed, status, { startMs, isDecision, number, onWho, onStore, onMoments }) {
  const since = Math.floor((bed.clock() - startMs) / 1000);
  const name = bed.standing.at.name;
  fill(
    at,
    ...withWire(bed, whoBlocks(identityHere(bed, bed.now, bed.record))),
    el("div", { class: "strip-facts" }, momentsKey(fact(elapsedWords(since), say(isDecision ? "strip.since_decision" : "strip.since_opened")), onMoments), number),
    storeBlock(status, onStore, true),
    el(
      "div",
      { class: "strip-keys" },
      whoKey(name || say("who.nobody_yet"), onWho),
      lockKey(),
      key(say("strip.cases"), () => void (location.hash = "#/"), { "data-act": "cases" }),
    ),
  );
}

/** The time that runs is the way to the moments in it. @param {HTMLElement} since @param {() => void} onMoments */
function momentsKey(since, onMoments) {
  const made = key("", onMoments, { class: "key fact-key", "data-weight": "quiet", "data-act": "moments" });
  since.append(" ", el("span", { class: "fact-way" }, say("moments.open")));
  made.append(since);
  return made;
}

/** Where there are two, which one the screen is about. @param {Bedside} bed @param {HTMLElement[]} blocks */
function withWire(bed, blocks) {
  const { wires } = bed.now;
  const here = wires.findIndex(({ id }) => id === bed.wire);
  const wire = wires[here];
  if (wire && wires.length > 1) {
    const words = say("strip.wire", { name: wireName(bed, wire), place: here + 1, of: wires.length });
    blocks[1]?.append(el("b", { class: "who-wire" }, words));
  }
  return blocks;
}

/** @param {string} name @param {() => void} onWho */
function whoKey(name, onWho) {
  const made = key("", onWho, { "data-act": "who", "aria-label": say("who.at_named", { name }) });
  made.append(el("small", {}, say("who.entering")), " ", name);
  return made;
}

/**
 * Draw one standing fact: the words large, what they are below.
 * @param {string | HTMLElement} value
 * @param {string} name
 * @returns {HTMLElement}
 */
export function fact(value, name) {
  const shown = typeof value === "string" ? parts(value) : [value];
  return el("div", { class: "fact" }, el("span", { class: "fact-value" }, ...shown), el("small", { class: "fact-name" }, name));
}

/** @param {string} words "1 h 45 min": the figures are large, the units not */
function parts(words) {
  return words.split(" ").flatMap((word) => [/^\d/.test(word) ? el("b", {}, word) : word, " "]).slice(0, -1);
}
