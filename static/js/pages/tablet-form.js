import { the } from "../form/dom.js";

/**
 * Read a part's form, which the page carries as text, when the part is first shown.
 * @param {string} part
 * @returns {HTMLFormElement}
 */
export function formOf(part) {
  const source = the(`#part-${part} > script`);
  /** @type {HTMLFormElement} */
  const form = the("form", new DOMParser().parseFromString(source.textContent ?? "", "text/html"));
  source.replaceWith(form);
  return form;
}
