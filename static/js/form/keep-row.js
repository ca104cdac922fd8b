/** @import { JsonObject, NewEntry } from "../types.js" */
/** @import { Bedside } from "../types-form.js" */
import { notKept, sayingOf } from "./keep.js";

/**
 * Keep an entry at a catalogue path that may bring the case's first wire with it. Where the
 * wire is not kept the entry itself is told as not kept: trying again makes both, with the
 * same words and moment, in the same case.
 * @param {Bedside} bed
 * @param {string} template a star for the wire
 * @param {(path: string) => Omit<NewEntry, "author">} entryAt
 * @param {{label: string, words: string}} said
 * @param {import("../types-form.js").Saying} [at]
 * @returns {Promise<{path: string, id: string} | null>} null: not kept, and said so
 */
export async function keepAt(bed, template, entryAt, said, at = sayingOf(bed)) {
  let path = "";
  try {
    path = await bed.pathFor(template, { ...at, isTold: false });
  } catch (error) {
    const again = () => void bed.during(keepAt(bed, template, entryAt, said, at));
    const { op, value } = entryAt(template);
    const same = `${at.record} ${template} ${op === "set" ? "" : JSON.stringify(value)}`;
    bed.tell({ ...notKept(said, error, again), record: at.record, of: at.of, same });
    return null;
  }
  const id = await bed.keep(entryAt(path), said, at);
  return id ? { path, id } : null;
}

/**
 * Keep a row at a catalogue path, as above.
 * @param {Bedside} bed
 * @param {string} template
 * @param {JsonObject} value its moment included: it is that of the tap, whenever it is kept
 * @param {{label: string, words: string}} said
 * @param {{clears?: string}} [more] the draft it takes the place of
 */
export function keepRow(bed, template, value, said, more = {}) {
  return keepAt(bed, template, (path) => ({ path, op: "add", value, ...more }), said);
}
