/** @import { Answer, JsonObject, Meta, Opened, Row } from "../types.js" */
import { saidWhole } from "./answers.js";

/**
 * Return what one path says now: the answers that no entry had seen, equal ones as one.
 * @param {Opened[]} own the path's answers in order
 * @param {Iterable<string>} gone ids that erased entries had seen
 * @returns {Answer[]}
 */
export function heads(own, gone) {
  const seen = new Set(gone);
  for (const { id, body } of own) for (const before of body.seen) if (before !== id) seen.add(before);
  /** @type {Map<string, Answer>} */
  const found = new Map();
  for (const { id, body } of own) {
    if (seen.has(id)) continue;
    const key = saidWhole(body.value);
    const same = found.get(key);
    if (same) same.entries.push(id);
    else found.set(key, { value: body.value, entries: [id] });
  }
  return [...found.values()];
}

/**
 * Return one row of a group, marked when it is struck.
 * @param {Opened} entry
 * @param {Map<string, Opened>} struck id to the strike that holds
 * @returns {Row}
 */
export function row({ id, body }, struck) {
  const by = struck.get(id);
  const reason = by ? (/** @type {JsonObject} */ (by.body.value).reason ?? null) : null;
  return { id, value: body.value, struck: by ? { by: by.id, reason } : null };
}

/**
 * Return who told an entry, when and how.
 * @param {Opened} entry
 * @param {number} time_ms
 * @returns {Meta}
 */
export function meta({ log, seq, body }, time_ms) {
  const { op, path, at, author, entered_by, called_by, source, how } = body;
  return { log, seq, op, path, at, author, entered_by, called_by, source, how, time_ms };
}
