/** @import { Fold, Opened } from "../types.js" */
/** @import { Folding, OfPath } from "../types-fold.js" */
import { listOf, struckIn } from "./fold.js";
import { heads, meta, row } from "./fold-path.js";
import { byTime, correctedMs } from "./fold-times.js";

/**
 * Fold one more entry onto a record: only its own path is read again. What was told
 * before stays as it was; paths that say the same are the same objects.
 * @param {Folding} before used up: it is not to be folded onto again
 * @param {Opened} entry
 * @returns {Folding | null} null: it changes more than its path, fold all of them again
 */
export function foldOn(before, entry) {
  const { unique, erasures, times, paths, ends } = before;
  const { id, log, seq, body } = entry;
  const end = ends.get(log);
  // Out of its log's order it may move what was told after it.
  if (unique.has(id) || erasures.has(id) || body.path === "erasures" || (end && seq <= end.seq)) return null;
  const ms = Math.max(end?.ms ?? 0, correctedMs(body.at));
  ends.set(log, { seq, ms });
  unique.set(id, entry);
  times.set(id, ms);
  let own = paths.get(body.path);
  if (!own) paths.set(body.path, (own = { sets: [], adds: [], strikes: [] }));
  const list = listOf(own, entry);
  if (list) list.splice(placeIn(list.map((told) => told.id), entry, before), 0, entry);
  return { ...before, fold: withPath(before, own, entry) };
}

/**
 * @param {Folding} before
 * @param {OfPath} own
 * @param {Opened} entry
 * @returns {Fold}
 */
function withPath(before, own, entry) {
  const { fold, erasures, shells, times, gone } = before;
  const { path, op } = entry.body;
  const order = [...fold.order];
  order.splice(placeIn(order, entry, before), 0, entry.id);
  const entries = Object.assign({}, fold.entries, { [entry.id]: meta(entry, /** @type {number} */ (times.get(entry.id))) });
  const { values, rows } = fold;
  if (op === "set") return { values: { ...values, [path]: heads(own.sets, gone) }, rows, entries, order };
  if (!own.adds.length) return { values, rows, entries, order };
  const named = [...own.adds, ...own.strikes, ...shells.filter(({ body }) => body.path === path)];
  const struck = struckIn(named, erasures);
  return { values, rows: { ...rows, [path]: own.adds.map((told) => row(told, struck)) }, entries, order };
}

/**
 * Return where an entry stands among others that are in order: nearly always last.
 * @param {string[]} others
 * @param {Opened} entry
 * @param {Pick<Folding, "unique" | "times">} folding
 * @returns {number}
 */
function placeIn(others, { id }, { unique, times }) {
  const timed = (/** @type {string} */ of) => ({ entry: /** @type {Opened} */ (unique.get(of)), ms: times.get(of) ?? 0 });
  const own = timed(id);
  let place = others.length;
  while (place > 0 && byTime(timed(others[place - 1]), own) > 0) place -= 1;
  return place;
}
