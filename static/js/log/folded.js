/** @import { Opened } from "../types.js" */
/** @import { Held } from "../types-fold.js" */
import { foldOn } from "./fold-on.js";

/**
 * Fold what came since onto what was folded.
 * @param {Held} read
 * @returns {Held["folding"]} null: fold all of it
 */
export function foldedOn({ folding: before, waiting, aside, pulled }) {
  let next = before;
  for (const entry of waiting) {
    if (!next || aside.has(entry.id)) return null;
    // What was pulled meanwhile in its place is the one that counts.
    if (pulled.get(entry.id) && pulled.get(entry.id) !== entry) return null;
    next = foldOn(next, entry);
  }
  return next;
}

/**
 * Where another writer's entry stands under the id of one written here, the one that
 * everybody has is read.
 * @param {Held} held
 * @returns {Opened[]}
 */
export function counted({ own, pulled, aside }) {
  const others = [...pulled.values()].filter((entry) => entry !== null);
  return [...own.values()].filter(({ id }) => !aside.has(id) && !pulled.get(id)).concat(others);
}
