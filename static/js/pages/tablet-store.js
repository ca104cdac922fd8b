/** @import { Bedside, Complaint, Status } from "../types.js" */
import { el, key } from "../form/dom.js";
import { elapsedWords } from "../form/elapsed.js";
import { say } from "../form/say.js";
import { lead } from "../live/lead.js";

/**
 * Show where the entries are, what there is to know, and each entry that the server
 * did not count, with its reason. Nothing on it asks anybody to do anything.
 * @param {HTMLElement} sheet
 * @param {Bedside} bed
 * @param {Status} status
 */
export function showStore(sheet, bed, status) {
  const close = () => {
    sheet.hidden = true;
    sheet.replaceChildren();
  };
  const title = el("h3", { class: "sheet-name", id: "who-name" }, say("storage.title"));
  const last = status.lastSync === null ? say("storage.never") : say("storage.last", { age: elapsedWords(Math.floor((bed.clock() - status.lastSync) / 1000)) });
  const notes = status.notes.map((note) => el("li", { class: "remark", "data-weight": "look_again" }, lead("look_again"), el("span", {}, say(note.key, note.args))));
  const body = el(
    "div",
    { class: "sheet-body storage" },
    el("p", { class: "storage-words" }, say(status.words.key, status.words.args)),
    el("p", { class: "quiet" }, last),
    el("ul", {}, ...notes),
    ...complaints(bed, say("storage.set_aside"), status.setAside),
    ...complaints(bed, say("storage.refused"), status.refused),
    status.notes.some((note) => note.key === "strip.not_enrolled") ? el("p", {}, el("a", { class: "key", href: "/tablet/enrol" }, say("storage.enrol"))) : null,
  );
  sheet.replaceChildren(el("header", { class: "sheet-head" }, title), body, el("div", { class: "sheet-keys" }, key(say("storage.close"), close, { "data-weight": "first" })));
  sheet.hidden = false;
  sheet.onkeydown = (event) => event.key === "Escape" && close();
  /** @type {HTMLElement | null} */ (sheet.querySelector(".sheet-keys .key"))?.focus({ preventScroll: true });
}

/** @param {Bedside} bed @param {string} title @param {Complaint[]} list */
function complaints(bed, title, list) {
  if (!list.length) return [];
  const items = list.map(({ path, because }) => {
    const label = (path && bed.index.at(path)?.field.label) || path || say("storage.unknown_field");
    return el("li", {}, el("b", {}, label), `: ${because}`);
  });
  return [el("h4", { class: "form-section-title" }, title), el("ul", { class: "storage-list" }, ...items)];
}
