/** @import { Bedside, FieldSpec, PartSpec, WireRead } from "../types-form.js" */
import { el } from "../form/dom.js";
import { fieldsOf, wirePath } from "../form/fields.js";
import { questionsOf } from "../form/questions.js";
import { say } from "../form/say.js";
import { answerLine, rowLines } from "./tablet-paper-lines.js";

/**
 * Set out every part in reading order, once a wire where there are several; then what
 * stands in the record and in no part. Nothing of the fold is left out.
 * @param {Bedside} bed
 * @returns {{blocks: HTMLElement[], left: HTMLElement | null}}
 */
export function paperParts(bed) {
  const open = new Map(questionsOf(bed.now).map(({ path, why }) => [path, why]));
  /** @type {Set<string>} */
  const told = new Set();
  const tell = (/** @type {string} */ path, /** @type {FieldSpec | null} */ field) => {
    told.add(path);
    return pathLines(bed, path, field, open.get(path) ?? "");
  };
  const moments = block(say("paper.moments"), tell("moments", bed.now.index.top("moments")));
  const parts = bed.now.index.parts.map((part) => partBlock(bed, part, tell));
  const { values, rows } = bed.now.fold;
  const rest = [...new Set([...Object.keys(values), ...Object.keys(rows)])].filter((path) => !told.has(path));
  const left = block(say("paper.also"), rest.flatMap((path) => tell(path, bed.now.index.at(path)?.field ?? bed.now.index.top(path))));
  return { blocks: [moments, ...parts].filter((one) => one !== null), left };
}

/**
 * @param {Bedside} bed
 * @param {PartSpec} part
 * @param {(path: string, field: FieldSpec) => HTMLElement[]} tell
 */
function partBlock(bed, part, tell) {
  const { wires } = bed.now;
  const fields = fieldsOf(part);
  const once = fields.filter((field) => !field.per_wire).flatMap((field) => tell(`${part.name}.${field.name}`, field));
  const each = wires.flatMap((wire) => {
    const own = fields.filter((field) => field.per_wire).flatMap((field) => tell(wirePath(wire.id, `${part.name}.${field.name}`), field));
    return own.length && wires.length > 1 ? [el("h3", {}, wire.name), ...own] : own;
  });
  return block(part.label, [...once, ...each]);
}

/**
 * @param {Bedside} bed
 * @param {string} path
 * @param {FieldSpec | null} field
 * @param {string} why it is an open question; "" when it is none
 * @returns {HTMLElement[]}
 */
function pathLines(bed, path, field, why) {
  const isSaid = bed.now.answer(path).heads.length > 0;
  const rows = bed.now.fold.rows[path] ?? [];
  if (!isSaid && !rows.length && why !== "not_asked") return [];
  const line = isSaid || !rows.length ? [answerLine(bed, path, field)] : [];
  return [...line, ...rowLines(bed, path, field)];
}

/** @param {string} title @param {HTMLElement[]} lines */
function block(title, lines) {
  return lines.length ? el("section", { class: "paper-part" }, el("h2", {}, title), ...lines) : null;
}
