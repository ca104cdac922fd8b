/** @import { AnswerRead, CaseRead, FieldIndex, FieldSpec, Fold, Json, RowRead, WireRead } from "../types.js" */
import { derived } from "./derived.js";
import { check } from "./kinds.js";
import { say } from "./say.js";
import { holds } from "./when.js";
import { words } from "./words.js";

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
  const read = reader(fold, answer, rows, real);
  return {
    fold, index, answer, rows, wires, read,
    isAsked: (field, wire) => !field.asked_when || holds(field.asked_when, read(wire))[0],
    pathsOf: (path) =>
      index.at(path)?.field.per_wire ? wires.map((wire) => wirePath(wire.id, path)) : [path],
  };
}

/**
 * Return the path of a field of one wire.
 * @param {string} wire
 * @param {string} path
 */
export function wirePath(wire, path) {
  return `wires/${wire}/${path}`;
}

/**
 * Return a row's values without the impossible, which nothing computes with.
 * @param {FieldSpec | null} group
 * @param {import("../types.js").JsonObject} value
 */
function possible(group, value) {
  const child = (/** @type {string} */ name) => (group?.children ?? []).find((field) => field.name === name) ?? null;
  return Object.fromEntries(Object.entries(value).filter(([name, said]) => stateOf(child(name), said) !== "impossible"));
}

/**
 * Return what one value of a field comes to.
 * @param {FieldSpec | null} field
 * @param {any} value any: a value of whatever kind
 * @returns {AnswerRead["state"]}
 */
export function stateOf(field, value) {
  if (typeof value === "object" && value && "absent" in value) {
    return ["not_known", "not_done"].includes(value.absent) ? value.absent : "not_asked";
  }
  if (!field) return "answered";
  return ["impossible", "illegal"].includes(check(field, value).state) ? "impossible" : "answered";
}

/**
 * @param {Fold} fold
 * @param {FieldIndex} index
 * @returns {CaseRead["answer"]}
 */
function answerer(fold, index) {
  return (path) => {
    const field = index.at(path)?.field ?? null;
    const heads = fold.values[path] ?? [];
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
  return (path, struck = false) =>
    (fold.rows[path] ?? [])
      .filter((row) => struck || !row.struck)
      .map((row) => ({ ...row, value: isObject(row.value) ? row.value : {} }));
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
 * @param {FieldIndex} index
 * @param {WireRead[]} wires
 * @returns {(path: string, wire: string | null) => string}
 */
function realPath(index, wires) {
  return (path, wire) => {
    if (path.startsWith("wires/") || !index.at(path)?.field.per_wire) return path;
    const only = wire ?? (wires.length === 1 ? wires[0]?.id : null);
    return only ? wirePath(only, path) : path;
  };
}

/**
 * @param {Fold} fold
 * @param {CaseRead["answer"]} answer
 * @param {CaseRead["rows"]} rows
 * @param {(path: string, wire: string | null) => string} real
 * @returns {CaseRead["read"]}
 */
function reader(fold, answer, rows, real) {
  return (wire = null, row = null) => (path) => {
    if (row && path.startsWith("row.")) {
      const name = path.slice(4);
      return { values: name in row ? [row[name] ?? null] : [], ids: [], rows: [] };
    }
    if (path.startsWith("derived.")) {
      const value = derived(fold, path);
      return { values: value ? [value] : [], ids: [], rows: [], unit: value?.unit ?? "" };
    }
    const place = real(path, wire);
    const found = answer(place);
    const told = rows(place);
    return {
      values: found.state === "impossible" ? [] : found.heads,
      ids: [...found.entries, ...told.map((row) => row.id)],
      rows: told.map((row) => ({ ...possible(found.field, row.value), id: row.id })),
      unit: found.field?.units[0] ?? "",
      units: Object.fromEntries((found.field?.children ?? []).map((child) => [child.name, child.units[0] ?? ""])),
    };
  };
}

/**
 * @param {Json} value
 * @returns {value is RowRead["value"]}
 */
function isObject(value) {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
