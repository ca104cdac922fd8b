/** @import { JsonObject } from "../types.js" */
/** @import { Standing } from "../types-form.js" */

const SETTINGS = /\.dial_left_at$/;

/**
 * Tell whether a row may be kept by whoever is here: settings read off a generator carry
 * the name of a person who read them, in the row or beside it. Source:
 * fixtures/sources.md#clinical-10 (by a named person), #clinical-27 V6.
 * @param {string} template the group's catalogue path
 * @param {JsonObject} row
 * @param {Standing} standing
 */
export function hasReader(template, row, { at, author }) {
  if (!SETTINGS.test(template)) return true;
  const said = /** @type {{name?: unknown} | null} */ (row.read_back_by ?? null);
  return [said?.name, (author ?? at).name].some((name) => typeof name === "string" && name.trim() !== "");
}
