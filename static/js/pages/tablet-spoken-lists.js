/** @import { Bedside, FieldSpec } from "../types-form.js" */

/**
 * @typedef {object} SpokenList One list that is read aloud.
 * @property {string} part
 * @property {string} prefix of the names of its lines
 * @property {string} answered the field that tells how its lines were answered
 * @property {string} moment the field that tells when it was read; "" none
 * @property {string} by the field that tells by what the first line is known; "" none
 */

/** @type {SpokenList[]} */
const LISTS = [
  { part: "consent", prefix: "time_out_", answered: "time_out_answered", moment: "time_out", by: "time_out_identifiers" },
  { part: "approach", prefix: "barrier_", answered: "barrier_answered", moment: "", by: "" },
  { part: "advance", prefix: "before_", answered: "before_answered", moment: "", by: "" },
];

/** The pairs of identifiers that are read most; any others are told in the field. */
export const PAIRS = [["name", "birth_date"], ["name", "record_number"], ["name", "wristband"]];

/**
 * @param {string} part
 * @returns {SpokenList | null}
 */
export function listOf(part) {
  return LISTS.find((list) => list.part === part) ?? null;
}

/**
 * Return the lines of a list that are asked in this case, in the catalogue's order.
 * @param {Bedside} bed
 * @param {SpokenList} list
 * @returns {FieldSpec[]}
 */
export function linesOf(bed, list) {
  const fields = bed.index.part(list.part)?.sections.flatMap((section) => section.fields) ?? [];
  return fields.filter((field) => field.kind === "yn" && field.name.startsWith(list.prefix) && bed.now.isAsked(field, bed.wire));
}

/**
 * Return the list's own name: the section its lines stand in.
 * @param {Bedside} bed
 * @param {SpokenList} list
 * @returns {string}
 */
export function titleOf(bed, list) {
  const section = bed.index.part(list.part)?.sections.find(({ fields }) => fields.some((field) => field.name === list.answered));
  return section?.title ?? "";
}

/**
 * Return the path of a field of the list, a star for the wire.
 * @param {Bedside} bed
 * @param {SpokenList} list
 * @param {string} name
 */
export function templateOf(bed, list, name) {
  const path = `${list.part}.${name}`;
  return bed.index.at(path)?.field.per_wire ? `wires/*/${path}` : path;
}
