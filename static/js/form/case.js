/** @import { Answer, Fold, Json, Row } from "../types.js" */
/** @import { AnswerRead, CaseRead, FieldIndex, FieldSpec, RowRead, WireRead } from "../types-form.js" */
import { wirePath } from "./fields.js";
import { readerOf, realPath } from "./read-path.js";
import { say } from "./say.js";
import { stateOf } from "./state-of.js";
import { holds } from "./when.js";
import { words } from "./words.js";

/** @type {Row[]} */
const NO_ROWS = [];

/**
 * Read a folded record: what each path says, in words and states. The twin of
 * webapp/record/case.py.
 * @param {Fold} fold
 * @param {FieldIndex} index
 * @returns {CaseRead}
 */
export function readCase(fold, index) {
  const rows = rowsOf(fold);
  const answer = answerer(fold, index);
  const wires = wiresOf(answer, rows);
  const real = realPath(index, wires);
  const read = readerOf(fold, answer, rows, real);
  return {
    fold, index, answer, rows, wires, read,
    isAsked: (field, wire) => !field.asked_when || holds(field.asked_when, read(wire))[0],
    pathsOf: (path) =>
      index.at(path)?.field.per_wire ? wires.map((wire) => wirePath(wire.id, path)) : [path],
  };
}

/**
 * What a path says was read once: a fold never changes, and what stays the same in the
 * next one are the same objects.
 * @type {WeakMap<FieldIndex, WeakMap<Answer[], AnswerRead>>}
 */
const answers = new WeakMap();
/** @type {WeakMap<FieldIndex, Map<string, AnswerRead>>} by path, where nothing was said */
const unsaid = new WeakMap();
/** @type {WeakMap<Row[], {all: RowRead[], standing: RowRead[]}>} */
const groups = new WeakMap();

/**
 * @param {Fold} fold
 * @param {FieldIndex} index
 * @returns {CaseRead["answer"]}
 */
function answerer(fold, index) {
  const said = answers.get(index) ?? new WeakMap();
  const empty = unsaid.get(index) ?? new Map();
  answers.set(index, said);
  unsaid.set(index, empty);
  const read = answerReader(index);
  return (path) => {
    const heads = fold.values[path];
    const known = heads ? said.get(heads) : empty.get(path);
    if (known) return known;
    const found = read(path, heads ?? []);
    if (heads) said.set(heads, found);
    else empty.set(path, found);
    return found;
  };
}

/**
 * @param {FieldIndex} index
 * @returns {(path: string, heads: Answer[]) => AnswerRead}
 */
function answerReader(index) {
  return (path, heads) => {
    const field = index.at(path)?.field ?? null;
    const entries = heads.flatMap((head) => head.entries);
    const values = heads.map((head) => head.value);
    const told = (/** @type {Json} */ value) => (field ? words(field, value) : String(value));
    const one = values.length === 1;
    const state = one ? stateOf(field, values[0]) : values.length ? "two_answers" : "not_asked";
    const text = values.length ? values.map(told).join(say("answers.or")) : say("words.not_asked");
    return { path, field, state, value: one ? (values[0] ?? null) : null, heads: values, entries, words: text };
  };
}

/**
 * @param {Fold} fold
 * @returns {CaseRead["rows"]}
 */
function rowsOf(fold) {
  return (path, struck = false) => {
    const told = fold.rows[path] ?? NO_ROWS;
    let found = groups.get(told);
    if (!found) {
      const all = told.map((row) => ({ ...row, value: isObject(row.value) ? row.value : {} }));
      groups.set(told, (found = { all, standing: all.filter((row) => !row.struck) }));
    }
    return struck ? found.all : found.standing;
  };
}

/**
 * @param {CaseRead["answer"]} answer
 * @param {CaseRead["rows"]} rows
 * @returns {WireRead[]}
 */
function wiresOf(answer, rows) {
  return rows("wires").map((row, at) => {
    const named = answer(wirePath(row.id, "approach.wire_name"));
    const seed = typeof row.value.name === "string" ? row.value.name : say("wire.numbered", { number: at + 1 });
    return { id: row.id, name: named.state === "answered" ? named.words : seed };
  });
}

/**
 * @param {Json} value
 * @returns {value is RowRead["value"]}
 */
function isObject(value) {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
