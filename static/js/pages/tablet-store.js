/** @import { Complaint, Status } from "../types.js" */
/** @import { Bedside } from "../types-form.js" */
import { readCase } from "../form/case.js";
import { el, fill, key } from "../form/dom.js";
import { elapsedWords } from "../form/elapsed.js";
import { identityOf } from "../form/identity.js";
import { say } from "../form/say.js";
import { settingOf } from "../form/today.js";
import { complaintWords } from "../form/typed-words.js";
import { momentWords } from "../form/words.js";
import { exactMoment } from "../log/clock.js";
import { lead } from "../live/lead.js";
import { noteText, noteWords } from "./tablet-note.js";
import { once } from "./tablet-once.js";
import { paperKey } from "./tablet-paper.js";
import { photoLines } from "./tablet-photos.js";

/** A time this near to now has no number. */
const JUST_NOW_S = 20;
/** Longer text is scrolled within its place. */
const LONG = 400;

/**
 * Show where the entries are, what there is to know, and each entry that the server
 * did not count, with its reason; drawn again as they change. Nothing on it asks anybody
 * to do anything.
 * @param {HTMLElement} sheet
 * @param {Bedside} bed
 */
export async function showStore(sheet, bed) {
  // It scrolls, and is scrolled by keys too.
  const body = el("div", { class: "sheet-body storage", tabindex: "0" });
  const draw = once(async () => fill(body, ...(await lines(bed, await bed.store.status()))));
  let stop = () => {};
  const close = () => {
    stop();
    sheet.hidden = true;
    sheet.replaceChildren();
  };
  const title = el("h3", { class: "sheet-name", id: "who-name" }, say("storage.title"));
  const keys = el("div", { class: "sheet-keys" }, key(say("storage.close"), close, { "data-weight": "first" }), bed.record ? paperKey(bed) : null);
  await draw();
  sheet.replaceChildren(el("header", { class: "sheet-head" }, title), body, keys);
  sheet.hidden = false;
  stop = bed.store.onChange(() => (body.isConnected ? void draw() : stop()));
  // A handler that answers false would take each key away, also those that write.
  sheet.onkeydown = (event) => {
    if (event.key === "Escape") close();
  };
  /** @type {HTMLElement | null} */ (sheet.querySelector(".sheet-keys .key"))?.focus({ preventScroll: true });
}

/** @param {Bedside} bed @param {number | null} at_ms */
function lastHeard(bed, at_ms) {
  if (at_ms === null) return say("storage.never");
  const seconds = Math.floor((bed.clock() - at_ms) / 1000);
  const isNow = seconds > -JUST_NOW_S && seconds < JUST_NOW_S;
  return isNow ? say("storage.last_now") : say("storage.last", { age: elapsedWords(seconds) });
}

/** @param {Bedside} bed @param {Status} status */
async function lines(bed, status) {
  const cases = await namesOf(bed, [...status.setAside, ...status.conflicts, ...status.refused, ...status.erased]);
  const last = lastHeard(bed, status.lastSync);
  const notes = status.notes.map((note) => el("li", { class: "remark", "data-weight": "look_again" }, lead("look_again"), el("span", {}, noteWords(note))));
  return [
    el("p", { class: "storage-words" }, say(status.words.key, status.words.args)),
    el("p", { class: "quiet" }, last),
    notes.length ? el("ul", {}, ...notes) : null,
    ...complaints(bed, say("storage.set_aside"), status.setAside, cases),
    ...complaints(bed, say("storage.conflict"), status.conflicts, cases),
    ...complaints(bed, say("storage.refused"), status.refused, cases),
    ...complaints(bed, say("storage.erased"), status.erased.map(blank), cases),
    ...(await photoLines(bed, status.photosRefused)),
    status.notes.some((note) => note.key === "strip.not_enrolled") ? el("p", {}, el("a", { class: "key", href: "/tablet/enrol" }, say("storage.enrol"))) : null,
  ];
}

/**
 * @param {Bedside} bed
 * @param {string} title
 * @param {Complaint[]} list
 * @param {Map<string, string>} cases
 */
function complaints(bed, title, list, cases) {
  if (!list.length) return [];
  const { today } = settingOf(bed);
  const items = list.map((complaint) => {
    const { label, typed } = complaintWords(bed.index, complaint);
    const time = complaint.ms === null ? "" : momentWords(exactMoment(complaint.ms, bed.store.zone()), today);
    const place = [cases.get(complaint.record), time].filter(Boolean).join(" · ");
    return el(
      "li",
      { class: "storage-item" },
      el("p", {}, el("b", {}, label), " ", el("span", { class: "storage-typed", ...(typed.length > LONG ? { "data-long": "", tabindex: "0" } : {}) }, typed)),
      el("p", {}, noteText(complaint.because)),
      place ? el("p", { class: "quiet" }, place) : null,
    );
  });
  return [el("h4", { class: "form-section-title" }, title), el("ul", { class: "storage-list" }, ...items)];
}

/** An erased entry's words are not shown again: only that it was one. @param {Complaint} complaint */
function blank(complaint) {
  return { ...complaint, value: "", because: say("storage.erased_because") };
}

/**
 * @param {Bedside} bed
 * @param {Complaint[]} told
 * @returns {Promise<Map<string, string>>} each record's name, but for the one that is open
 */
async function namesOf(bed, told) {
  const others = [...new Set(told.map(({ record }) => record))].filter((record) => record && record !== bed.record);
  const names = await Promise.all(
    others.map(async (record) => {
      const { name, place } = identityOf(readCase(await bed.store.fold(record), bed.index));
      return /** @type {const} */ ([record, `${name}, ${say("who.case")} ${place}`]);
    }),
  );
  return new Map(names);
}
