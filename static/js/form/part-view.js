/** @import { Bedside, FieldSpec, QuestionRead } from "../types-form.js" */
import { bindField } from "./field-view.js";
import { bindGroup } from "./group-view.js";
import { plainPath } from "./fields.js";

/** @typedef {import("./field-view.js").FieldView} FieldView */
/** @typedef {import("./group-view.js").GroupForm} GroupForm */

/**
 * @typedef {object} PartView
 * @property {(questions: QuestionRead[]) => void} render
 * @property {() => Promise<void>} leave make entries of what was typed
 * @property {(drafts: {[path: string]: string}) => void} restore
 * @property {(path: string) => GroupForm | null} groupForm by the catalogue's path
 * @property {(path: string) => HTMLElement | null} rootOf by the record's path
 */

/**
 * Bring one part's form to life. Called once a part, when it is first opened.
 * @param {HTMLFormElement} form
 * @param {Bedside} bed
 * @param {import("./unfinished.js").Drafts} drafts
 * @param {import("./group-view.js").OpenRow} openRow
 * @returns {PartView}
 */
export function bindPart(form, bed, drafts, openRow) {
  form.addEventListener("submit", (event) => event.preventDefault());
  const groups = [...form.querySelectorAll("fieldset.group")].map((root) => groupOf(/** @type {HTMLElement} */ (root), bed));
  const forms = groups.map(({ form: own }) => own);
  const inner = (/** @type {GroupForm} */ own) => forms.filter(({ field }) => field.row_of === plain(own.template));
  const fields = [...form.querySelectorAll(".field[data-path]:not([data-child])")].map((root) => {
    const at = /** @type {HTMLElement} */ (root);
    return { spec: specAt(bed, at), view: bindField(at, specAt(bed, at), bed, drafts) };
  });
  const views = [
    ...fields,
    ...groups.map(({ root, form: own }) => ({ spec: own.field, view: bindGroup(root, own, inner(own), bed, drafts, openRow) })),
  ];

  return {
    render(questions) {
      const open = new Set(questions.map((question) => question.path));
      for (const { spec, view } of views) {
        const path = view.place();
        const isSaid = bed.now.answer(path).heads.length > 0 || bed.now.rows(path, true).length > 0;
        view.root.hidden = !isSaid && !open.has(path) && !bed.now.isAsked(spec, bed.wire);
        if (!view.root.hidden) view.render(open.has(path));
      }
      for (const section of form.querySelectorAll("section")) {
        section.hidden = !section.querySelector(":scope > :is(.field, .group):not([hidden])");
      }
    },
    async leave() {
      await Promise.all(views.map(({ view }) => view.leave()));
    },
    restore(drafts_) {
      for (const { view } of views) {
        const raw = drafts_[view.place()];
        if (raw !== undefined) view.restore(raw);
      }
    },
    groupForm: (path) => forms.find((own) => plain(own.template) === path) ?? null,
    rootOf: (path) => views.find(({ view }) => view.place() === path)?.view.root ?? null,
  };
}

/** @param {HTMLElement} root @param {Bedside} bed */
function groupOf(root, bed) {
  const form = /** @type {HTMLTemplateElement} */ (root.querySelector(":scope > template"));
  return { root, form: { template: String(root.dataset.path), field: specAt(bed, root), form } };
}

/**
 * @param {Bedside} bed
 * @param {HTMLElement} root
 * @returns {FieldSpec}
 */
function specAt(bed, root) {
  const path = plain(String(root.dataset.path));
  const found = bed.index.at(path)?.field;
  if (!found) throw new Error(`the catalogue has no ${path}`);
  return found;
}

/** @param {string} template */
function plain(template) {
  return plainPath(template);
}
