/** @import { Bedside } from "../types-form.js" */
import { el, key } from "../form/dom.js";
import { say } from "../form/say.js";

/**
 * Show lines on a sheet over the part's page until it is closed.
 * @param {HTMLElement} sheet
 * @param {string} title
 * @param {HTMLElement[]} lines
 */
export function openSheet(sheet, title, lines) {
  const close = () => {
    sheet.hidden = true;
    sheet.replaceChildren();
  };
  const end = key(say("storage.close"), close, { "data-weight": "first" });
  sheet.replaceChildren(
    el("header", { class: "sheet-head" }, el("h3", { class: "sheet-name", id: "who-name" }, title)),
    el("div", { class: "sheet-body debrief", tabindex: "0" }, ...lines),
    el("div", { class: "sheet-keys" }, end),
  );
  sheet.hidden = false;
  sheet.onkeydown = (event) => {
    if (event.key === "Escape") close();
  };
  end.focus({ preventScroll: true });
}

/**
 * Return a result of a reading in the words of its key.
 * @param {Bedside} bed
 * @param {string} path of the group in the catalogue
 * @param {string} code
 */
export function choiceWords(bed, path, code) {
  const field = bed.index.at(path)?.field;
  const result = field?.children.find(({ name }) => name === "result");
  return result?.choices.find((choice) => choice.code === code)?.label ?? (code || "…");
}
