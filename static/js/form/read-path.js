/** @import { Fold } from "../types.js" */
/** @import { CaseRead, FieldIndex, FieldSpec, WireRead } from "../types-form.js" */
import { derived } from "./derived.js";
import { wirePath } from "./fields.js";
import { stateOf } from "./state-of.js";

/**
 * Return what turns a catalogue path into the record's: that of the wire meant, or of
 * the only one there is.
 * @param {FieldIndex} index
 * @param {WireRead[]} wires
 * @returns {(path: string, wire: string | null) => string}
 */
export function realPath(index, wires) {
  return (path, wire) => {
    if (path.startsWith("wires/") || !index.at(path)?.field.per_wire) return path;
    const only = wire ?? (wires.length === 1 ? wires[0]?.id : null);
    return only ? wirePath(only, path) : path;
  };
}

/**
 * Return the functions that conditions read with.
 * @param {Fold} fold
 * @param {CaseRead["answer"]} answer
 * @param {CaseRead["rows"]} rows
 * @param {(path: string, wire: string | null) => string} real
 * @returns {CaseRead["read"]}
 */
export function readerOf(fold, answer, rows, real) {
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
 * Return a row's values without the impossible, which nothing computes with.
 * @param {FieldSpec | null} group
 * @param {import("../types.js").JsonObject} value
 */
function possible(group, value) {
  const child = (/** @type {string} */ name) => (group?.children ?? []).find((field) => field.name === name) ?? null;
  return Object.fromEntries(Object.entries(value).filter(([name, said]) => stateOf(child(name), said) !== "impossible"));
}
