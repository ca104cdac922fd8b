/** @import { Bedside } from "../types-form.js" */
/** @import { Found } from "../clinical/types-found.js" */
import { asks, finding, weightWord } from "../clinical/remarks.js";
import { el } from "../form/dom.js";
import { allWords } from "../form/say.js";
import { lead } from "../live/lead.js";
import { openRemarks, whenRemarked } from "./tablet-remarks.js";

/** Case and wire that the fields were told of last. */
let told = "";

/**
 * Show beside each field of a part what was found about it and nobody answered yet. What
 * fits is said in its one place only.
 * @param {Bedside} bed
 * @param {import("../form/part-view.js").PartView} view
 */
export function showRemarkPlaces(bed, view) {
  const { record, now, wire } = bed;
  // The fields are those of another case, or wire, by now.
  if (told !== `${record} ${wire ?? ""}`) for (const old of document.querySelectorAll(".part .field-remarks")) old.remove();
  told = `${record} ${wire ?? ""}`;
  void whenRemarked(bed).then(() => {
    if (bed.record !== record || bed.now !== now) return;
    const all = openRemarks(bed).filter(({ remark }) => remark.weight !== "fits");
    /** @type {Map<Element, Found[]>} */
    const byRoot = new Map();
    for (const one of all) {
      const root = view.rootOf(one.path);
      if (root) byRoot.set(root, [...(byRoot.get(root) ?? []), one]);
    }
    for (const old of document.querySelectorAll(".part:not([hidden]) .field-remarks")) {
      if (!byRoot.has(/** @type {Element} */ (old.parentElement))) old.remove();
    }
    for (const [root, own] of byRoot) put(root, own);
  });
}

/** @param {Element} root @param {Found[]} own */
function put(root, own) {
  const table = allWords();
  const lines = own.map(({ remark }) =>
    el("p", { "data-weight": remark.weight }, lead(remark.weight), el("span", {}, el("b", {}, `${weightWord(remark, table)}: ${finding(remark, table)}`), " ", asks(remark, table))),
  );
  const made = el("div", { class: "field-remarks" }, ...lines);
  const old = root.querySelector(":scope > .field-remarks");
  if (!old) root.append(made);
  else if (!old.isEqualNode(made)) old.replaceWith(made);
}
