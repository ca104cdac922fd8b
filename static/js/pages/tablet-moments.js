/** @import { Bedside } from "../types-form.js" */
/** @import { Json } from "../types.js" */
import { el, fill, key } from "../form/dom.js";
import { say } from "../form/say.js";
import { timedRows } from "../form/standing.js";
import { settingOf } from "../form/today.js";
import { momentWords, words } from "../form/words.js";
import { exactMoment } from "../log/clock.js";

/** @typedef {import("../form/unfinished.js").Drafts} Drafts */

const PATH = "moments";
const DRAFT = "moments#words";
/** Finish says these itself. */
const OWN_KEYS = ["finished", "opened_again"];
const NOW = 0;
const AGO_MIN = [2, 5, 10, 20];

/**
 * Show a key for each named moment of a case, with when it was told last. A tap keeps one
 * at the time that is chosen above, and ends the sheet: the hand goes back to work.
 * @param {HTMLElement} sheet
 * @param {Bedside} bed
 * @param {Drafts} drafts
 */
export async function showMoments(sheet, bed, drafts) {
  const { record } = bed;
  const drafted = await bed.store.drafts(record).catch(() => /** @type {{[path: string]: string}} */ ({}));
  const typed = drafted[DRAFT] ?? "";
  if (bed.record !== record) return;
  let agoMin = NOW;
  const close = () => {
    sheet.hidden = true;
    delete sheet.dataset.of;
    sheet.replaceChildren();
  };
  const keep = (/** @type {Json} */ name, /** @type {{clears?: string}} */ more = {}) => {
    const ms = bed.clock() - agoMin * 60_000;
    const moment = { ...exactMoment(ms, bed.store.zone()), certainty: agoMin ? "about" : "exact" };
    close();
    return bed.keep({ path: PATH, op: "add", value: { name, moment }, ...more }, { label: say("moments.title"), words: words(nameField(bed), name) });
  };
  const keepKey = (/** @type {Json} */ name) => void bed.during(keep(name));
  const keepWords = async (/** @type {string} */ typed) => {
    drafts.forget(DRAFT);
    // Tried again by the receipt's key it clears its draft, too.
    if (!(await keep({ other: typed.trim() }, { clears: DRAFT }))) drafts.putBack(DRAFT, typed);
  };
  const body = el("div", { class: "sheet-body moments", tabindex: "0" }, agoRow((minutes) => (agoMin = minutes)), el("div", { class: "moments-keys" }, ...keysOf(bed, keepKey)), inWords(typed, drafts, (said) => void bed.during(keepWords(said))));
  const title = el("h3", { class: "sheet-name", id: "who-name" }, say("moments.title"));
  fill(
    sheet,
    el("header", { class: "sheet-head" }, title, el("p", { class: "sheet-of" }, say("moments.note"))),
    body,
    el("div", { class: "sheet-keys" }, key(say("storage.close"), close, { "data-weight": "first", "data-act": "moments-close" })),
  );
  sheet.dataset.of = "moments";
  sheet.hidden = false;
  // A handler that answers false would take each key away, also those that write.
  sheet.onkeydown = (event) => {
    if (event.key === "Escape") close();
  };
  body.focus({ preventScroll: true });
}

/** When it was: now, or some minutes ago. @param {(minutes: number) => void} onChoose */
function agoRow(onChoose) {
  const keys = [NOW, ...AGO_MIN].map((minutes) => key(minutes ? say("moment.ago", { minutes }) : say("moments.now"), () => mark(minutes), { "data-ago": minutes }));
  const mark = (/** @type {number} */ minutes) => {
    onChoose(minutes);
    for (const one of keys) one.setAttribute("aria-pressed", String(one.dataset.ago === String(minutes)));
  };
  mark(NOW);
  return el("div", { class: "pair", role: "group", "aria-label": say("moments.when") }, ...keys);
}

/** @param {Bedside} bed @param {(name: Json) => void} keep @returns {HTMLElement[]} */
function keysOf(bed, keep) {
  const told = new Map(timedRows(bed.now, [PATH]).map(({ row }) => [row.value.name, row.value.moment]));
  const { today } = settingOf(bed);
  return nameField(bed).choices.filter(({ code, takes_text }) => !takes_text && !OWN_KEYS.includes(code)).map(({ code, label }) => {
    const made = key("", () => keep(code), { "data-moment": code });
    const at = told.get(code);
    made.append(el("span", {}, label), at ? el("small", {}, momentWords(/** @type {any} */ (at), today)) : "");
    return made;
  });
}

/** Any other moment, in words; until it is kept it is a draft. @param {string} typed @param {Drafts} drafts @param {(said: string) => void} keep */
function inWords(typed, drafts, keep) {
  const box = el("input", { class: "input", type: "text", autocomplete: "off", placeholder: say("moments.other"), "aria-label": say("moments.other"), "data-moment-words": "" });
  box.value = typed;
  box.addEventListener("input", () => drafts.note(DRAFT, box.value));
  const done = () => box.value.trim() && keep(box.value);
  return el("div", { class: "moments-other" }, box, key(say("row.keep"), () => void done(), { "data-act": "moment-words" }));
}

/** @param {Bedside} bed */
function nameField(bed) {
  const field = bed.index.top(PATH)?.children.find(({ name }) => name === "name");
  if (!field) throw new Error(`the catalogue has no ${PATH}`);
  return field;
}
