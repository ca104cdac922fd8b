/** @import { JsonObject } from "../types.js" */
/** @import { CaseRead, FieldSpec, RowRead } from "../types-form.js" */
import { stateOf } from "./state-of.js";
import { el } from "./dom.js";
import { words } from "./words.js";

/** What a row comes to, where it has such a child. */
const TELLING = ["result", "output", "state", "dose", "role", "kind"];

/**
 * Return what a row says, child by child, in the catalogue's order.
 * @param {FieldSpec} group
 * @param {JsonObject} row
 * @param {string} today
 * @returns {{child: FieldSpec, words: string, state: string}[]}
 */
export function cellsOf(group, row, today) {
  return group.children
    .filter((child) => child.name in row)
    .map((child) => {
      const value = row[child.name] ?? null;
      return { child, words: words(child, value, today), state: stateOf(child, value) };
    });
}

/**
 * Draw a row as its answers, each with its name before it.
 * @param {FieldSpec} group
 * @param {JsonObject} row
 * @param {string} today
 * @returns {HTMLElement}
 */
export function rowCells(group, row, today) {
  const cells = cellsOf(group, row, today).map(({ child, words: said, state }) =>
    el("span", {}, el("i", {}, child.label), " ", el("b", { "data-state": state }, said)),
  );
  return el("div", { class: "row-cells" }, ...cells);
}

/**
 * Name a row in a few words, for keys and receipts: its first two answers.
 * @param {FieldSpec} group
 * @param {JsonObject} row
 * @param {string} today
 * @returns {string}
 */
export function shortWords(group, row, today) {
  const cells = cellsOf(group, row, today).filter(({ child }) => !["moment", "by"].includes(child.name));
  const [first, ...rest] = cells;
  const second = rest.find(({ child }) => TELLING.includes(child.name)) ?? rest[0];
  return [first, second].map((cell) => cell?.words ?? "").filter(Boolean).join(", ") || group.label;
}

/**
 * Return the rows of a group that belong to one row of another.
 * @param {CaseRead} now
 * @param {string} path
 * @param {string} parent
 * @returns {RowRead[]}
 */
export function rowsWithin(now, path, parent) {
  return now.rows(path, true).filter((row) => row.value.of === parent);
}
