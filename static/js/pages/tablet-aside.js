/** @import { Status } from "../types.js" */
/** @import { Bedside } from "../types-form.js" */
import { el } from "../form/dom.js";
import { say } from "../form/say.js";
import { complaintWords } from "../form/typed-words.js";
import { noteText } from "./tablet-note.js";

/**
 * Show, beside each field of a part, what was typed there and does not count at the
 * server, and why: a field that looked blank would be taken for one nobody answered.
 * @param {Bedside} bed
 * @param {import("../form/part-view.js").PartView} view
 * @param {Status} status
 */
export function showAside(bed, view, status) {
  const own = status.setAside.filter(({ record, path }) => record === bed.record && path !== null);
  const places = new Map(own.map(({ path }) => [path, view.rootOf(String(path))]));
  const roots = new Set(places.values());
  for (const old of document.querySelectorAll(".part .field-aside")) {
    if (!roots.has(/** @type {HTMLElement} */ (old.parentElement))) old.remove();
  }
  for (const [path, root] of places) {
    if (!root) continue;
    const lines = own.filter((one) => one.path === path).map((one) => {
      const { typed } = complaintWords(bed.index, one);
      return el("p", {}, `${say("field.set_aside")} `, el("b", {}, typed), " ", el("small", {}, noteText(one.because)));
    });
    const made = el("div", { class: "field-aside", "data-weight": "look_again" }, ...lines);
    const old = root.querySelector(":scope > .field-aside");
    if (!old) root.append(made);
    else if (!old.isEqualNode(made)) old.replaceWith(made);
  }
}
