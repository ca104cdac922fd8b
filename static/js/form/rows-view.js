/** @import { Bedside, FieldSpec, RowRead } from "../types-form.js" */
import { el, key } from "./dom.js";
import { rowCells, rowsWithin, shortWords } from "./row-words.js";
import { say } from "./say.js";
import { strikeKey } from "./strike-line.js";
import { toldBy } from "./told.js";

/**
 * @typedef {object} RowsOf A group whose rows are shown.
 * @property {FieldSpec} field
 * @property {string} path the record's path
 * @property {Bedside} bed
 * @property {string} today
 * @property {import("./unfinished.js").Drafts} drafts
 * @property {{field: FieldSpec, path: string, add: (parent: string) => void}[]} inner groups whose rows belong to these rows
 */

/**
 * Draw the rows of a group: what each says, who said it, strike or keep after all.
 * Struck rows stay, marked and with their reason.
 * @param {RowsOf} group
 * @param {RowRead[]} rows
 * @returns {HTMLElement[]}
 */
export function rowItems(group, rows) {
  return rows.map((row) => item(group, row));
}

/** @param {RowsOf} group @param {RowRead} row */
function item(group, row) {
  const { field, bed, today } = group;
  const meta = bed.now.fold.entries[row.id];
  const said = el("p", { class: "row-said" }, meta ? toldBy(meta, today) : "", row.struck ? ` · ${struckWords(bed, row)}` : "");
  const made = el("li", { class: "group-row", "data-entry": row.id, "data-struck": row.struck ? "" : null }, rowCells(field, row.value, today), said);
  const keys = el("div", { class: "row-keys" });
  keys.append(row.struck ? again(group, row) : strikeKey(group, row, made));
  made.append(keys);
  for (const inner of row.struck ? [] : group.inner) made.append(within(group, inner, row));
  return made;
}

/** @param {Bedside} bed @param {RowRead} row */
function struckWords(bed, row) {
  const by = bed.now.fold.entries[row.struck?.by ?? ""]?.author.name || say("told.nobody");
  const reason = typeof row.struck?.reason === "string" ? row.struck.reason : "";
  return reason ? say("row.struck_because", { by, reason }) : say("row.struck", { by });
}

/**
 * Striking the strike brings the row back.
 * @param {RowsOf} group
 * @param {RowRead} row
 */
function again({ field, path, bed, today }, row) {
  const words = shortWords(field, row.value, today);
  const value = { strikes: row.struck?.by ?? "", reason: null };
  const said = { label: field.label, words: say("row.back", { words }) };
  return key(say("row.keep_after_all"), () => void bed.keep({ path, op: "strike", value }, said), {
    "data-act": "keep-after-all", "aria-label": say("row.keep_named", { words }),
  });
}

/**
 * @param {RowsOf} group
 * @param {RowsOf["inner"][number]} inner
 * @param {RowRead} row
 */
function within({ bed, today, drafts }, inner, row) {
  const rows = rowsWithin(bed.now, inner.path, row.id);
  const add = key(say("group.add", { label: inner.field.label }), () => inner.add(row.id), { "data-act": "add-row" });
  const list = el("ol", { class: "group-rows" }, ...rowItems({ ...inner, bed, today, drafts, inner: [] }, rows));
  return el("div", { class: "row-inner" }, list, add);
}
