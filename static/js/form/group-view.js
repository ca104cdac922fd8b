/** @import { Bedside, FieldSpec } from "../types-form.js" */
import { openAnswer } from "./answer-writer.js";
import { el } from "./dom.js";
import { closeMore, readAbsence, setOutAbsence, showAbsence } from "./no-answer.js";
import { rowItems } from "./rows-view.js";
import { say } from "./say.js";
import { showAnswers } from "./settle.js";
import { openShown } from "./shown.js";
import { settingOf } from "./today.js";
import { entryTime, history } from "./told.js";
import { absenceWords } from "./words.js";

/** @typedef {import("./field-view.js").FieldView} FieldView */
/** @typedef {{template: string, field: FieldSpec, form: HTMLTemplateElement}} GroupForm a group and the form of its rows */
/** @typedef {(form: GroupForm, parent?: string) => void} OpenRow */

/**
 * Bring one group of the page to life: its rows, the way to add one, and the ways of
 * saying that there are none. Rows that belong to rows stand within them.
 * @param {HTMLElement} root the fieldset
 * @param {GroupForm} own
 * @param {GroupForm[]} inner
 * @param {Bedside} bed
 * @param {import("./unfinished.js").Drafts} drafts
 * @param {OpenRow} openRow
 * @returns {FieldView}
 */
export function bindGroup(root, own, inner, bed, drafts, openRow) {
  const { field } = own;
  const find = (/** @type {string} */ css) => /** @type {HTMLElement} */ (root.querySelector(`:scope > ${css}`));
  const [absence, rows, add] = [find(".field-absence"), find(".group-rows"), find(".group-add")];
  const said = el("p", { class: "field-said" });
  const answers = el("div", { class: "answers", hidden: true });
  const label = root.querySelector(":scope > .group-label");
  const hint = root.querySelector(":scope > .field-hint");
  // The legend names the fieldset; what is seen of it stands in the head beside the keys.
  label?.classList.add("spoken");
  const shownLabel = el("span", { class: "group-label", "aria-hidden": "true" }, field.label);
  const head = el("div", { class: "group-head" }, el("div", { class: "group-name" }, shownLabel, hint, said), add, absence);
  root.insertBefore(head, rows);
  root.insertBefore(answers, rows);
  const { panel } = setOutAbsence(absence, field.label);
  const writer = openAnswer(own.template, field, bed, drafts, () => {});
  const at = (/** @type {string} */ template) => (bed.wire ? template.replace("*", bed.wire) : template);

  add.textContent = say("group.add_short");
  add.setAttribute("aria-label", say("group.add", { label: field.label }));
  add.hidden = Boolean(field.row_of);
  add.addEventListener("click", () => openRow(own));
  const drawn = openShown();
  absence.addEventListener("change", ({ target }) => {
    drawn.forget();
    writer.commit(readAbsence(absence), "{}");
    if (/** @type {HTMLInputElement} */ (target).value !== "not_done") closeMore(panel);
  });

  return {
    root,
    place: writer.place,
    leave: writer.settled,
    restore: () => {},
    render(isOpen) {
      const answer = bed.now.answer(writer.place());
      const { today } = settingOf(bed);
      const all = bed.now.rows(writer.place(), true);
      const others = [...inner.map((form) => at(form.template)), ...(field.row_of ? [at(withStar(own, field.row_of))] : [])];
      const isSettled = !rows.querySelector(".row-strike");
      if (drawn.isShown([answer, isOpen, today, all, ...others.map((path) => bed.now.rows(path, true))], isSettled)) return;
      const shown = field.row_of ? all.filter((row) => !hasParent(bed, at(withStar(own, field.row_of)), row.value.of)) : all;
      root.dataset.state = shown.length && answer.state === "not_asked" ? "ok" : answer.state;
      root.toggleAttribute("data-open", isOpen);
      const nested = inner.map((form) => ({ field: form.field, path: at(form.template), add: (/** @type {string} */ of) => openRow(form, of) }));
      keepReasons(rows, () => rows.replaceChildren(...rowItems({ field, path: writer.place(), bed, today, drafts, inner: nested }, shown)));
      showAbsence(absence, answer.value);
      showAnswers(answers, answer, bed, today, (value) => writer.commit(value, "{}"));
      said.replaceChildren(...line(answer.state, all.filter((row) => !row.struck).length, isOpen));
      panel.querySelector(".history")?.remove();
      panel.append(history(bed.now, writer.place(), today));

      /** @param {string} state @param {number} count @param {boolean} open */
      function line(state, count, open) {
        if (count) return [say(count === 1 ? "group.one" : "group.count", { count })];
        const last = bed.now.fold.entries[answer.entries.at(-1) ?? ""];
        const time = last ? ` · ${say("field.kept", { time: entryTime(last, today) })}` : "";
        if (state === "not_known" || state === "not_done") {
          return [el("b", {}, absenceWords(/** @type {import("../types.js").JsonObject} */ (answer.value))), time];
        }
        if (field.row_of) return [say("group.within")];
        return [open ? el("b", {}, say("words.not_asked")) : say("words.not_asked")];
      }
    },
  };
}

/** @param {GroupForm} own @param {string} path */
function withStar(own, path) {
  return own.template.startsWith("wires/*/") ? `wires/*/${path}` : path;
}

/** @param {Bedside} bed @param {string} path @param {unknown} parent */
function hasParent(bed, path, parent) {
  return bed.now.rows(path).some((row) => row.id === parent);
}

/**
 * Draw rows anew, but not while somebody writes a reason in one of them.
 * @param {HTMLElement} rows
 * @param {() => void} draw
 */
function keepReasons(rows, draw) {
  if (!rows.querySelector(".row-strike")) draw();
}
