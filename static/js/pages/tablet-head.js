/** @import { Bedside, QuestionRead } from "../types-form.js" */
import { el, fill, key, the } from "../form/dom.js";
import { say } from "../form/say.js";
import { countWords } from "./tablet-rail.js";
import { caseAddress } from "./tablet-route.js";
import { skipKey } from "./tablet-keys.js";
import { addWire, wireName } from "./tablet-wire.js";

/** A second wire begins where a wire is chosen. */
const WIRE_PART = "approach";

/** @typedef {import("../form/part-view.js").PartView} PartView */

/**
 * Draw a part's head: its name, what is open in words, which wire, the next question.
 * @param {Bedside} bed
 * @param {string} part
 * @param {PartView} view
 * @param {QuestionRead[]} questions of the whole case
 */
export function drawHead(bed, part, view, questions) {
  const at = the(`#part-${part} .part-head`);
  const own = questions.filter((question) => question.part === part);
  the(".part-open", at).textContent = countWords(bed, part, questions);
  const isPerWire = bed.index.part(part)?.sections.some((section) => section.fields.some((field) => field.per_wire));
  const next = own.length ? key(say("part.next_open"), () => goToNext(view, own), { "data-act": "next-open" }) : null;
  fill(the(".part-keys", at), skipKey(), ...(isPerWire ? wireKeys(bed, part) : []), next);
}

/**
 * Bring a field to the middle of its page and the focus into it.
 * @param {HTMLElement | null} root
 */
export function focusField(root) {
  if (!root) return;
  root.scrollIntoView({ block: "center" });
  /** @type {HTMLElement | null} */ (root.querySelector("input:not([type='hidden']), textarea, button"))?.focus({ preventScroll: true });
}

/**
 * A wire is named only when there are two; one can always be added.
 * @param {Bedside} bed
 * @param {string} part
 */
function wireKeys(bed, part) {
  const picks = bed.now.wires.map((wire) => {
    const href = caseAddress(bed.record, part, { wire: wire.id });
    return el("a", { class: "key", href, "aria-current": wire.id === bed.wire ? "true" : null }, wireName(bed, wire));
  });
  const add = async () => {
    const { record } = bed;
    const id = await bed.during(addWire(bed));
    if (id) location.hash = caseAddress(record, part, { wire: id });
  };
  const isOffered = bed.now.wires.length > 0 && part === WIRE_PART;
  return [
    picks.length > 1 ? el("span", { class: "pair", role: "group", "aria-label": say("wire.which") }, ...picks) : null,
    isOffered ? key(say("wire.add"), () => void add(), { "data-act": "add-wire", "data-weight": "quiet" }) : null,
  ];
}

/** @param {PartView} view @param {QuestionRead[]} own */
function goToNext(view, own) {
  const roots = own.map((question) => view.rootOf(question.path)).filter((root) => root !== null);
  const here = document.activeElement?.closest(".field, .group") ?? null;
  const after = roots.find((root) => !here || here.compareDocumentPosition(root) & Node.DOCUMENT_POSITION_FOLLOWING);
  focusField(after ?? roots[0] ?? null);
}
