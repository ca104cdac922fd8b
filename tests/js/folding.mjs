/** Fold a record as a page does that is told of its entries one after the other. */
import { fold, folding, foldingInOrder } from "../../static/js/log/fold.js";
import { foldOn } from "../../static/js/log/fold-on.js";
import { entriesOf, pictured } from "../../static/js/log/snapshot.js";

/**
 * Fold the first entries at once, the others one by one onto them.
 * @param {import("../../static/js/types.js").Opened[]} entries
 * @param {number} first
 * @returns {{fold: object, again: number}} again: how often all had to be folded again
 */
export function oneByOne(entries, first) {
  let [state, again] = [folding(entries.slice(0, first)), 0];
  entries.slice(first).forEach((entry, n) => {
    const before = JSON.stringify(state.fold);
    const { fold: held } = state;
    const next = foldOn(state, [entry]);
    if (JSON.stringify(held) !== before) throw new Error("a fold that somebody holds was changed");
    again += next ? 0 : 1;
    state = next ?? folding(entries.slice(0, first + n + 1));
  });
  return { fold: state.fold, again };
}

/**
 * Tell which paths of a fold became other objects by one more entry.
 * @param {import("../../static/js/types.js").Opened[]} entries
 * @returns {string[]}
 */
export function redrawn(entries) {
  const before = folding(entries.slice(0, -1));
  const { fold: held } = before;
  const next = foldOn(before, entries.slice(-1))?.fold ?? fold(entries);
  const isOther = (/** @type {"values" | "rows"} */ kind) =>
    Object.keys(next[kind]).filter((path) => next[kind][path] !== held[kind][path]);
  return [...isOther("values"), ...isOther("rows")];
}

/**
 * Fold the first entries one by one, write them down and read them, and fold the others
 * onto that at once.
 * @param {import("../../static/js/types.js").Opened[]} entries
 * @param {number} first
 * @returns {object | null} null: an entry changed more than its path
 */
export function throughPicture(entries, first) {
  let state = folding([]);
  entries.slice(0, first).forEach((entry, n) => {
    state = foldOn(state, [entry]) ?? folding(entries.slice(0, n + 1));
  });
  const written = JSON.stringify(pictured(state, () => false, { aside: [], none: [] }));
  const read = foldingInOrder(entriesOf(JSON.parse(written)));
  return foldOn(read, entries.slice(first))?.fold ?? null;
}
