/** @import { Opened } from "../types.js" */
/** @import { Held } from "../types-fold.js" */
import { foldOn } from "./fold-on.js";

/**
 * Fold what came since onto what was folded.
 * @param {Held} read
 * @returns {Held["folding"]} null: fold all of it
 */
export function foldedOn({ folding: before, waiting, aside, pulled }) {
  // What was pulled meanwhile in an entry's place is the one that counts.
  const isPlain = waiting.every((entry) => !aside.has(entry.id) && (pulled.get(entry.id) ?? entry) === entry);
  return before && isPlain ? foldOn(before, waiting) : null;
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
