/** @import { JsonObject } from "../types.js" */
/** @import { Bedside } from "../types-form.js" */
import { el, key, the } from "./dom.js";
import { giveFocus, holdFocus } from "./focus.js";
import { hasReader } from "./read-by.js";
import { copyRow } from "./row-copy.js";
import { bindRowField } from "./row-field.js";
import { shortWords } from "./row-words.js";
import { say } from "./say.js";
import { settingOf } from "./today.js";
import { rawOf, restoreRaw } from "./raw.js";
import { holds } from "./when.js";

/** @typedef {import("./group-view.js").GroupForm} GroupForm */
/** @typedef {import("./row-field.js").RowField} RowField */

export const ROW_DRAFT = "#row";

/**
 * The sheet on which one row of a group is told, over the part's page. Until it is
 * kept it is a draft: leaving the part or losing power loses none of it.
 * @param {HTMLElement} sheet
 * @param {Bedside} bed
 * @param {import("./unfinished.js").Drafts} drafts
 * @param {(then: () => void) => void} [askReader] asks who read it; a name given, it goes on
 */
export function rowSheet(sheet, bed, drafts, askReader) {
  /** @type {{form: GroupForm, parent: string, fields: RowField[], body: HTMLElement, back: ReturnType<typeof holdFocus>} | null} */
  let open = null;
  let made = 0;
  const draftAt = (/** @type {GroupForm} */ form) => (bed.wire ? form.template.replace("*", bed.wire) : form.template) + ROW_DRAFT;
  sheet.addEventListener("keydown", (event) => event.key === "Escape" && close());

  /**
   * @param {GroupForm} form @param {string} [parent] @param {string} [raw] what was told of it before
   * @param {{[child: string]: string}} [chosen] by the key that opens it: no draft until a hand goes on
   */
  function show(form, parent = "", raw = "", chosen = {}) {
    const back = open?.back ?? holdFocus(document.activeElement);
    const body = el("div", { class: "sheet-body" }, copyRow(form.form, `row${(made += 1)}`));
    body.querySelector(".group-actions")?.remove();
    const isLive = form.field.per_wire && bed.standing.source === "seen";
    const fields = form.field.children.map((child) => {
      const root = the(`[data-child="${child.name}"]`, body);
      return bindRowField(root, child, bed, isLive && child.name === "moment", () => noted());
    });
    open = { form, parent, fields, body, back };
    sheet.replaceChildren(head(form), body, keys());
    sheet.hidden = false;
    if (raw) restoreRaw(body, raw);
    for (const field of raw ? fields : []) field.judge();
    for (const [child, value] of Object.entries(chosen)) /** @type {HTMLInputElement} */ (the(`[data-child="${child}"] input[value="${value}"]`, body)).checked = true;
    ask();
    /** @type {HTMLElement | null} */ (body.querySelector("input, textarea, button"))?.focus({ preventScroll: true });
  }

  function noted() {
    if (!open) return;
    ask();
    drafts.note(draftAt(open.form), textNow());
  }

  const textNow = () => (open ? JSON.stringify({ of: open.parent, raw: rawOf(open.body) }) : "");

  /** A question whose condition does not hold is not asked; what it holds stays. */
  function ask() {
    if (!open) return;
    const read = bed.now.read(bed.wire, row());
    for (const { field, ask: show_ } of open.fields) show_(!field.asked_when || holds(field.asked_when, read)[0]);
  }

  /** @returns {JsonObject} */
  function row() {
    const told = (open?.fields ?? []).map(({ field, read }) => /** @type {const} */ ([field.name, read()]));
    return Object.fromEntries(told.filter(([, value]) => value !== null));
  }

  let isKeeping = false;
  /** A second tap, or Enter and a tap, while the first is written, is no second row. @param {boolean} another */
  const keep = (another) => {
    if (isKeeping) return;
    isKeeping = true;
    void bed.during(keepNow(another)).finally(() => (isKeeping = false));
  };

  /** @param {boolean} another */
  async function keepNow(another) {
    if (!open) return;
    const { form, parent } = open;
    const said = row();
    const isBlank = Object.keys(said).every((name) => name === "moment") && form.field.children.length > 1;
    if (isBlank) return void (the(".sheet-said", sheet).textContent = say("row.nothing_said"));
    if (askReader && !hasReader(form.template, said, bed.standing)) return askReader(() => keep(another));
    const value = parent ? { of: parent, ...said } : said;
    const words = shortWords(form.field, said, settingOf(bed).today);
    const [mine, text, before] = [open, textNow(), draftAt(form)];
    const path = await bed.pathFor(form.template);
    // A wire that the row brought has drafts of its own.
    const at = draftAt(form);
    drafts.forget(before);
    let isRefused = false;
    // Kept by a later try it is told no more, unless a hand went on with it.
    const kept = () => isRefused && open === mine && textNow() === text && close();
    const id = await bed.keep({ path, op: "add", value, clears: at }, { label: form.field.label, words }, { kept });
    isRefused = !id;
    if (at !== before) drafts.drop(before);
    if (!id) return textNow() === text ? drafts.putBack(at, text) : noted();
    // A letter typed on the way would bring the kept row back as one to be kept again.
    drafts.drop(at);
    if (another) show(form, parent);
    else close();
  }

  function discard() {
    if (open) drafts.drop(draftAt(open.form));
    for (const { field, read } of open?.fields ?? []) {
      const photo = field.kind === "photo" ? /** @type {{sealed?: string} | null} */ (read()) : null;
      if (photo?.sealed) void bed.store.forgetPhoto({ sealed: photo.sealed });
    }
    close();
  }

  function close() {
    const back = open?.back;
    open = null;
    sheet.hidden = true;
    sheet.replaceChildren();
    // The key that opened it may have been drawn anew meanwhile.
    giveFocus(back ?? null);
  }

  /** @param {GroupForm} form */
  function head({ field }) {
    const title = el("h3", { class: "sheet-name", id: "sheet-name" }, field.label);
    return el("header", { class: "sheet-head" }, title, field.hint ? el("p", { class: "sheet-of" }, field.hint) : null);
  }

  function keys() {
    return el(
      "div",
      { class: "sheet-keys" },
      key(say("row.keep"), () => keep(false), { "data-act": "keep-row", "data-weight": "first" }),
      key(say("row.keep_next"), () => keep(true), { "data-act": "keep-next" }),
      el("p", { class: "sheet-said", role: "status" }),
      key(say("row.discard"), discard, { "data-act": "drop-row" }),
    );
  }

  return { show, close, draftAt, isOpen: () => open !== null };
}
