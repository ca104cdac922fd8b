/** @import { Catalogue, Fold } from "../types.js" */
/** @import { CaseRead, FieldSpec, PartSpec, QuestionRead, RowRead } from "../types-form.js" */
import { readCase } from "./case.js";
import { stateOf } from "./state-of.js";
import { fieldsOf, indexFields, wirePath } from "./fields.js";

const OPENING_NEEDS = ["N1", "N2", "N3", "N4", "N5", "N6", "N7", "N8", "N", "R"];
const AFTERWARDS = ["handover", "checks", "removal"];

/**
 * A group whose rows are the same objects asks the same.
 * @type {WeakMap<RowRead[], {field: FieldSpec, path: string, questions: QuestionRead[]}>}
 */
const impossible = new WeakMap();

/**
 * Return every open question of a record, in the order of the parts. The twin of
 * webapp/record/questions.py.
 * @param {Fold} fold
 * @param {Catalogue} catalogue
 * @returns {QuestionRead[]}
 */
export function openQuestions(fold, catalogue) {
  return questionsOf(readCase(fold, indexFields(catalogue)));
}

/**
 * Return every open question of a record already read.
 * @param {CaseRead} now
 * @returns {QuestionRead[]}
 */
export function questionsOf(now) {
  return now.index.parts.flatMap((part) => {
    const asked = !AFTERWARDS.includes(part.name) || isBegun(now, part);
    return places(now, part).flatMap((place) => [
      ...question(now, part, place, asked),
      ...impossibleRows(now, part, place),
    ]);
  });
}

/** @typedef {{path: string, field: FieldSpec, wire: import("../types-form.js").WireRead | null}} Place */

/**
 * Return each field of a part with its path, once per wire where it repeats.
 * @param {CaseRead} now
 * @param {PartSpec} part
 * @returns {Place[]}
 */
function places(now, part) {
  return fieldsOf(part).flatMap((field) => {
    /** @type {(wire: import("../types-form.js").WireRead) => Place} */
    const ofWire = (wire) => ({ path: wirePath(wire.id, path), field, wire });
    const path = `${part.name}.${field.name}`;
    if (!field.per_wire || !now.wires.length) return [/** @type {Place} */ ({ path, field, wire: null })];
    return now.wires.map(ofWire);
  });
}

/**
 * @param {CaseRead} now
 * @param {PartSpec} part
 * @param {Place} place
 * @param {boolean} asked false: a part of the days after, not begun
 * @returns {QuestionRead[]}
 */
function question(now, part, { path, field, wire }, asked) {
  const answer = now.answer(path);
  const label = wire && now.wires.length > 1 ? `${field.label}, ${wire.name}` : field.label;
  const need = needOf(field);
  const found = { path, part: part.name, label, need };
  if (answer.state === "two_answers" || answer.state === "impossible") {
    return [{ ...found, why: answer.state, entries: answer.entries }];
  }
  if (!need || !asked || !isBlank(now, field, path) || !now.isAsked(field, wire?.id ?? null)) return [];
  return [{ ...found, why: "not_asked", entries: [] }];
}

/**
 * Return the need that opens a blank field; rows of a row only add detail.
 * @param {FieldSpec} field
 */
function needOf(field) {
  return field.row_of ? "" : (field.needs.find((word) => OPENING_NEEDS.includes(word)) ?? "");
}

/**
 * @param {CaseRead} now
 * @param {PartSpec} part
 * @param {Place} place
 * @returns {QuestionRead[]}
 */
function impossibleRows(now, part, { path, field }) {
  const rows = now.rows(path);
  if (!rows.length) return [];
  const known = impossible.get(rows);
  if (known && known.field === field && known.path === path) return known.questions;
  const questions = rows.flatMap((row) =>
    field.children
      .filter((child) => child.name in row.value && stateOf(child, row.value[child.name]) === "impossible")
      .map((child) => ({
        path, part: part.name, label: `${field.label}: ${child.label}`, why: "impossible", need: "", entries: [row.id],
      })),
  );
  impossible.set(rows, { field, path, questions });
  return questions;
}

/**
 * @param {CaseRead} now
 * @param {FieldSpec} field
 * @param {string} path
 */
function isBlank(now, field, path) {
  const blank = now.answer(path).state === "not_asked";
  return field.kind === "group" ? blank && !now.rows(path).length : blank;
}

/**
 * @param {CaseRead} now
 * @param {PartSpec} part
 */
function isBegun(now, part) {
  return places(now, part).some(({ path }) => now.answer(path).heads.length || now.rows(path).length);
}
