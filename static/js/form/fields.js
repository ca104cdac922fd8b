/** @import { Catalogue } from "../types.js" */
/** @import { FieldIndex, FieldSpec, PartSpec } from "../types-form.js" */

const WIRE_PREFIX = /^wires\/[^/]+\//;

/**
 * Make every field of the catalogue findable by its path.
 * @param {Catalogue} catalogue
 * @returns {FieldIndex}
 */
export function indexFields(catalogue) {
  const parts = /** @type {PartSpec[]} */ (/** @type {unknown} */ (catalogue.parts));
  const top = /** @type {FieldSpec[]} */ (/** @type {unknown} */ (catalogue.top));
  /** @type {Map<string, {field: FieldSpec, part: PartSpec}>} */
  const byPath = new Map();
  for (const part of parts) {
    for (const field of fieldsOf(part)) byPath.set(`${part.name}.${field.name}`, { field, part });
  }
  return {
    parts,
    at: (path) => byPath.get(plainPath(path)) ?? null,
    part: (name) => parts.find((part) => part.name === name) ?? null,
    top: (name) => top.find((field) => field.name === name) ?? null,
  };
}

/**
 * Return a part's fields in page order.
 * @param {PartSpec} part
 * @returns {FieldSpec[]}
 */
export function fieldsOf(part) {
  return part.sections.flatMap((section) => section.fields);
}

/**
 * Return the catalogue's path of a record's path: without the wire it is about.
 * @param {string} path
 * @returns {string}
 */
export function plainPath(path) {
  return path.replace(WIRE_PREFIX, "");
}

/**
 * Return the path of a field of one wire.
 * @param {string} wire
 * @param {string} path
 */
export function wirePath(wire, path) {
  return `wires/${wire}/${path}`;
}
