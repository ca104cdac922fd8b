/** @import { JsonObject, Opened } from "../types.js" */

/**
 * Find the entries that the desk erased.
 * @param {Map<string, Opened>} entries by id
 * @returns {Map<string, Opened>} id of an erased entry to the entry that tells it
 */
export function erasuresIn(entries) {
  /** @type {Map<string, Opened>} */
  const found = new Map();
  for (const told of entries.values()) {
    const { path, op, value } = told.body;
    const isTold = told.log === "desk" && path === "erasures" && op === "add";
    if (!isTold || value === null || typeof value !== "object" || Array.isArray(value)) continue;
    const erased = text(/** @type {JsonObject} */ (value), "entry");
    const before = found.get(erased);
    if (!before || told.id < before.id) found.set(erased, told);
  }
  return found;
}

/**
 * Return an erased entry without its words: what it replaced or struck is left, so that
 * an answer that was put right does not come back.
 * @param {string} id
 * @param {Opened} told
 * @returns {Opened}
 */
export function shellOf(id, { log, seq, body }) {
  const value = /** @type {JsonObject} */ (body.value);
  const op = /** @type {Opened["body"]["op"]} */ (text(value, "op"));
  const done = { path: text(value, "path"), op, seen: text(value, "seen").split(" ") };
  return { id, log, seq, body: { ...body, ...done, value: { strikes: text(value, "strikes") } } };
}

/**
 * @param {JsonObject} value
 * @param {string} key
 * @returns {string}
 */
function text(value, key) {
  const told = value[key];
  return typeof told === "string" ? told : "";
}
