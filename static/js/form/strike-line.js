/** @import { Bedside, FieldSpec, RowRead } from "../types-form.js" */
import { el, key } from "./dom.js";
import { struck } from "./keep.js";
import { shortWords } from "./row-words.js";
import { say } from "./say.js";

const DRAFT = "#strike/";

/**
 * Return the key that opens a line for the reason of a strike; the reason may stay
 * empty. What is typed of it is a draft until the strike is kept or left.
 * @param {{field: FieldSpec, path: string, bed: Bedside, today: string, drafts: import("./unfinished.js").Drafts}} group
 * @param {RowRead} row
 * @param {HTMLElement} made the row's own element
 * @returns {HTMLButtonElement}
 */
export function strikeKey({ field, path, bed, today, drafts }, row, made) {
  const words = shortWords(field, row.value, today);
  let isKeeping = false;
  const draftAt = `${path}${DRAFT}${row.id}`;
  const opener = key(say("row.strike"), open, { "aria-label": say("strike.named", { words }), "aria-expanded": "false", "data-act": "strike" });

  function open() {
    if (made.querySelector(":scope > .row-strike")) return leave();
    const reason = el("input", { class: "input", type: "text", "aria-label": say("row.reason"), placeholder: say("row.reason"), autocomplete: "off" });
    reason.addEventListener("input", () => drafts.note(draftAt, reason.value));
    const now = key(say("strike.named", { words }), () => void keep(reason.value.trim()), { "data-danger": "", "data-act": "strike-now" });
    made.append(el("div", { class: "row-strike" }, reason, now, key(say("row.leave"), leave)));
    opener.setAttribute("aria-expanded", "true");
    reason.focus();
  }

  function leave() {
    drafts.drop(draftAt);
    close();
  }

  function close() {
    made.querySelector(":scope > .row-strike")?.remove();
    opener.setAttribute("aria-expanded", "false");
    // The rows were not drawn anew while the line was open.
    bed.refresh();
  }

  /** @param {string} reason */
  async function keep(reason) {
    if (isKeeping) return;
    isKeeping = true;
    const value = { strikes: row.id, reason: reason || null };
    drafts.forget(draftAt);
    const id = await bed.keep({ path, op: "strike", value, clears: draftAt }, struck({ label: field.label, words }));
    isKeeping = false;
    if (id) close();
    else drafts.putBack(draftAt, reason);
  }

  return opener;
}

/**
 * Open the line again in which a reason was being typed.
 * @param {string} draftAt
 * @param {string} text
 */
export function reopenStrike(draftAt, text) {
  const id = draftAt.split(DRAFT)[1];
  const row = id ? document.querySelector(`.part:not([hidden]) .group-row[data-entry="${CSS.escape(id)}"]`) : null;
  if (!row || row.querySelector(":scope > .row-strike")) return;
  /** @type {HTMLElement | null} */ (row.querySelector(":scope > .row-keys > [data-act='strike']"))?.click();
  const box = /** @type {HTMLInputElement | null} */ (row.querySelector(":scope > .row-strike input"));
  if (box) box.value = text;
}
