/** @import { Bedside } from "../types-form.js" */
import { el, fill, key } from "../form/dom.js";
import { say } from "../form/say.js";
import { PAIRS, templateOf, titleOf } from "./tablet-spoken-lists.js";
import { readingOf } from "./tablet-spoken-reading.js";

/** @typedef {import("./tablet-spoken-lists.js").SpokenList} SpokenList */
/** @typedef {import("./tablet-spoken-reading.js").Reading} Reading */

/** Who cannot hold taps, and confirms with a second key. */
const HOLD_MS = 1000;

/** Draws the open sheet again; does nothing while none is open. */
let redraw = () => {};

/** The case was drawn anew: so are the answers of an open list. */
export function drawOpenSpoken() {
  redraw();
}

/**
 * Show a list that is read aloud: one line at a time, large, and a tap that answers it.
 * All at once only after each line was shown.
 * @param {HTMLElement} sheet
 * @param {Bedside} bed
 * @param {import("../form/unfinished.js").Drafts} drafts
 * @param {SpokenList} list
 */
export function showSpoken(sheet, bed, drafts, list) {
  const reading = readingOf(bed, drafts, list, () => redraw());
  const close = () => {
    reading.end();
    redraw = () => {};
    sheet.hidden = true;
    delete sheet.dataset.of;
    sheet.replaceChildren();
  };
  // The keys are made once: a trembling second tap on one is still known as such.
  const keys = answerKeys(reading);
  const below = belowKeys(reading);
  const at = {
    place: el("p", { class: "sheet-of", "data-part": "place" }),
    list: el("ol", { class: "spoken-list", "aria-label": say("spoken.lines") }),
    words: el("p", { class: "spoken-words", role: "status" }),
    state: el("p", { class: "spoken-state" }),
    by: el("div", { class: "spoken-by" }, ...(list.by ? byKeys(bed, list, reading) : [])),
  };
  const title = el("h3", { class: "sheet-name", id: "who-name" }, titleOf(bed, list));
  const line = el("div", { class: "spoken-line" }, at.words, at.state, list.by ? at.by : null, el("div", { class: "spoken-keys" }, ...Object.values(keys)));
  sheet.replaceChildren(
    el("header", { class: "sheet-head" }, title, at.place, key(say("spoken.close"), close, { "data-act": "spoken-close" })),
    el("div", { class: "sheet-body spoken-body" }, at.list, line),
    el("div", { class: "sheet-keys spoken-below" }, below.back, below.next, below.middle, below.all),
  );
  sheet.dataset.of = "spoken";
  sheet.hidden = false;
  sheet.onkeydown = (event) => {
    if (event.key === "Escape") close();
  };
  redraw = () => {
    if (!at.words.isConnected) return reading.end();
    drawLine(bed, list, reading, at);
    below.draw();
  };
  const first = reading.lines.findIndex(({ name }) => !reading.isAnswered(name));
  reading.show(Math.max(first, 0));
  keys.yes.focus({ preventScroll: true });
}

/** @param {Bedside} bed @param {SpokenList} list @param {Reading} reading @param {{[name: string]: HTMLElement}} at */
function drawLine(bed, list, reading, at) {
  const said = (/** @type {string} */ name) => bed.now.answer(templateOf(bed, list, name).replace("*", bed.wire ?? "*"));
  const field = reading.lines[reading.place()];
  if (!field || !at.place || !at.list || !at.words || !at.state || !at.by) return;
  const isOpen = reading.open().length > 0;
  fill(at.place, say("spoken.place", { place: reading.place() + 1, of: reading.lines.length }));
  fill(at.words, field.label);
  const isByOpen = list.by !== "" && said(list.by).state === "not_asked";
  const rest = isOpen ? "" : `${say("spoken.done")} ${isByOpen ? say("spoken.identifiers_open") : ""}`;
  fill(at.state, el("b", {}, said(field.name).words), " ", rest);
  at.by.hidden = field !== reading.lines[0];
  fill(at.list, ...reading.lines.map((one, place) => el("li", { "aria-current": place === reading.place() ? "step" : null, "data-state": said(one.name).state, "data-shown": reading.isShown(one.name) ? "" : null }, el("span", {}, one.label), " ", el("b", {}, said(one.name).words))));
}

/** @param {Reading} reading */
function answerKeys(reading) {
  return {
    yes: key(say("spoken.yes"), () => reading.answer("yes"), { "data-act": "spoken-yes", "data-weight": "first" }),
    no: key(say("spoken.no"), () => reading.answer("no"), { "data-act": "spoken-no" }),
    notKnown: key(say("spoken.not_known"), () => reading.answer({ absent: "not_known" }), { "data-act": "spoken-not-known" }),
  };
}

/** One tap says yes and by what. @param {Bedside} bed @param {SpokenList} list @param {Reading} reading */
function byKeys(bed, list, reading) {
  const choices = bed.index.at(`${list.part}.${list.by}`)?.field.choices ?? [];
  const word = (/** @type {string} */ code) => (choices.find((choice) => choice.code === code)?.label ?? code).toLowerCase();
  return PAIRS.map((pair) => key(say("spoken.yes_by", { one: word(pair[0] ?? ""), other: word(pair[1] ?? "") }), () => reading.answer("yes", pair), { "data-act": `spoken-by-${pair[1]}` }));
}

/**
 * The keys under the line. "Read through" gives its place to the key that confirms: it has
 * no use once every line was shown, and the second tap is not where the first was.
 * @param {Reading} reading
 */
function belowKeys(reading) {
  const back = key(say("spoken.back"), () => reading.show(reading.place() - 1), { "data-act": "spoken-back" });
  const next = key(say("spoken.next"), () => reading.show(reading.place() + 1), { "data-act": "spoken-next" });
  const middle = key("", () => void (isArmed ? answerAll() : reading.readOn()), { class: "key spoken-middle" });
  const all = key("", () => arm(), { class: "key spoken-all", "data-act": "spoken-all" });
  let [isArmed, held, isHeld] = [false, 0, false];
  const answerAll = () => {
    isArmed = false;
    reading.answerAll();
  };
  const arm = () => {
    isArmed = !isHeld;
    isHeld = false;
    draw();
  };
  all.addEventListener("pointerdown", () => {
    isHeld = false;
    if (!all.disabled) held = setTimeout(() => ((isHeld = true), answerAll()), HOLD_MS);
  });
  for (const kind of ["pointerup", "pointerleave", "pointercancel"]) all.addEventListener(kind, () => clearTimeout(held));

  function draw() {
    const [count, of] = [reading.lines.filter(({ name }) => reading.isShown(name)).length, reading.lines.length];
    const open = reading.open().length;
    const isReady = count === of && open > 0;
    if (!isReady) isArmed = false;
    back.disabled = reading.place() === 0;
    next.disabled = reading.place() === of - 1;
    middle.disabled = !isArmed && (count === of || open === 0);
    middle.dataset.act = isArmed ? "spoken-confirm" : "spoken-read";
    all.disabled = !isReady;
    fill(middle, el("b", {}, isArmed ? say("spoken.confirm", { count: open }) : say("spoken.read")), isArmed ? null : el("small", {}, say("spoken.read_more")));
    fill(all, el("b", {}, say("spoken.all")), el("small", {}, isReady ? say("spoken.all_ready") : say("spoken.all_more", { shown: count, of })));
  }

  return { back, next, middle, all, draw };
}
