/** @import { Bedside, Status } from "../types.js" */
import { el, fill, key, the } from "../form/dom.js";
import { bindPart } from "../form/part-view.js";
import { questionsOf } from "../form/questions.js";
import { ROW_DRAFT, rowSheet } from "../form/row-sheet.js";
import { say } from "../form/say.js";
import { plainPath } from "../form/fields.js";
import { drawFrame } from "./tablet-frame.js";
import { finishSection } from "./tablet-finish.js";
import { drawPanel } from "./tablet-panel.js";
import { countWords, drawRail } from "./tablet-rail.js";
import { caseAddress } from "./tablet-route.js";
import { addWire, wireName } from "./tablet-wire.js";

const WHO_DRAFT = "who";
/** A second wire begins where a wire is chosen. */
const WIRE_PART = "approach";

/** @typedef {import("../form/part-view.js").PartView} PartView */

/**
 * The case: its frame, and one part's page at a time.
 * @param {Bedside} bed
 * @param {import("../form/unfinished.js").Drafts} drafts
 */
export function caseScreen(bed, drafts) {
  const sheet = rowSheet(the("#sheet"), bed, drafts);
  /** @type {Map<string, PartView>} */
  const views = new Map();
  /** @type {{[path: string]: string}} */
  let unfinished = {};
  let current = "";

  /** @param {string} part @returns {PartView} */
  function viewOf(part) {
    const known = views.get(part);
    if (known) return known;
    const made = bindPart(the(`#part-${part} .part-form`), bed, drafts, sheet.show);
    views.set(part, made);
    return made;
  }

  /** @param {import("./tablet-route.js").Route} route @param {Status} status */
  function draw(route, status) {
    const part = bed.index.part(route.part) ? route.part : "patient";
    const questions = questionsOf(bed.now);
    current = part;
    for (const article of document.querySelectorAll(".part")) {
      /** @type {HTMLElement} */ (article).hidden = article.id !== `part-${part}`;
    }
    drawFrame(bed, part, status, keepWho);
    drawRail(the("#rail"), bed, part, questions);
    drawPanel(the("#panel"), bed, part, (path) => {
      const form = viewOf(part).groupForm(path);
      if (form) sheet.show(form);
    });
    viewOf(part).render(questions);
    drawHead(part, questions);
    if (part === "finish") drawFinish(questions);
    document.title = `${bed.index.part(part)?.label ?? ""} · Wiremark`;
  }

  /** @param {string} part @param {import("../types.js").QuestionRead[]} questions */
  function drawHead(part, questions) {
    const at = the(`#part-${part} .part-head`);
    const own = questions.filter((question) => question.part === part);
    the(".part-open", at).textContent = countWords(bed, part, questions);
    const isPerWire = bed.index.part(part)?.sections.some((section) => section.fields.some((field) => field.per_wire));
    fill(the(".part-keys", at), ...(isPerWire ? wireKeys(part) : []), own.length ? key(say("part.next_open"), () => next(own), { "data-act": "next-open" }) : null);
  }

  /** The wire is named only when there are two; one can always be added. @param {string} part */
  function wireKeys(part) {
    const several = bed.now.wires.length > 1;
    const picks = bed.now.wires.map((wire) =>
      el("a", { class: "key", href: caseAddress(bed.record, part, { wire: wire.id }), "aria-current": wire.id === bed.wire ? "true" : null }, wireName(bed, wire)),
    );
    const add = async () => {
      const id = await addWire(bed);
      if (id) location.hash = caseAddress(bed.record, part, { wire: id });
    };
    const more = bed.now.wires.length && part === WIRE_PART ? key(say("wire.add"), () => void add(), { "data-act": "add-wire", "data-weight": "quiet" }) : null;
    return [several ? el("span", { class: "pair", role: "group", "aria-label": say("wire.which") }, ...picks) : null, more];
  }

  /** @param {import("../types.js").QuestionRead[]} own */
  function next(own) {
    const roots = own.map((question) => viewOf(current).rootOf(question.path)).filter((root) => root !== null);
    const here = document.activeElement?.closest(".field, .group") ?? null;
    const after = roots.find((root) => !here || here.compareDocumentPosition(root) & Node.DOCUMENT_POSITION_FOLLOWING);
    focusField(after ?? roots[0] ?? null);
  }

  /** @param {import("../types.js").QuestionRead[]} questions */
  function drawFinish(questions) {
    const form = the("#part-finish .part-form");
    const made = finishSection(bed, questions);
    const old = form.parentElement?.querySelector(":scope > .finish");
    if (!old) form.after(made);
    else if (!old.isEqualNode(made)) old.replaceWith(made);
  }

  async function keepWho() {
    await bed.store.draft(bed.record, WHO_DRAFT, JSON.stringify(bed.standing)).catch(() => {});
    bed.refresh();
  }

  return {
    draw,
    async leave() {
      sheet.close();
      await Promise.all([...views.values()].map((view) => view.leave()));
      await drafts.flush();
    },
    /** A case is entered: whose words, and what was unfinished, come back with it. */
    async enter() {
      unfinished = await bed.store.drafts(bed.record).catch(() => ({}));
      const kept = unfinished[WHO_DRAFT];
      if (kept && !bed.standing.at.name) bed.standing = JSON.parse(kept);
      else bed.standing = { ...bed.standing, author: null, called_by: null, source: "seen" };
    },
    /** @param {import("./tablet-route.js").Route} route */
    async arrive(route) {
      const view = viewOf(current);
      view.restore(unfinished);
      if (route.path) focusField(view.rootOf(route.path));
      else if (!document.activeElement?.closest(".rail")) the(`#part-${current}`).focus({ preventScroll: true });
      reopen(view);
      unfinished = await bed.store.drafts(bed.record).catch(() => ({}));
    },
  };

  /** A row that was being told when the power went is told on. @param {PartView} view */
  function reopen(view) {
    const at = Object.keys(unfinished).find((path) => path.endsWith(ROW_DRAFT) && view.groupForm(plainPath(path.slice(0, -ROW_DRAFT.length)).replace("wires/*/", "")));
    const form = at ? view.groupForm(plainPath(at.slice(0, -ROW_DRAFT.length)).replace("wires/*/", "")) : null;
    if (!at || !form) return;
    const { of, raw } = JSON.parse(unfinished[at] ?? "{}");
    sheet.show(form, of, raw);
  }
}

/** @param {HTMLElement | null} root */
function focusField(root) {
  if (!root) return;
  root.scrollIntoView({ block: "center" });
  /** @type {HTMLElement | null} */ (root.querySelector("input:not([type='hidden']), textarea, button"))?.focus({ preventScroll: true });
}
