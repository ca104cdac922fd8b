/** @import { Fold, Opened } from "../types.js" */
/** @import { Folding, OfPath } from "../types-fold.js" */
import { listOf, struckIn } from "./fold.js";
import { heads, meta, row } from "./fold-path.js";
import { byTime, correctedMs } from "./fold-times.js";

/**
 * Fold more entries onto a record: only their own paths are read again. What was told
 * before stays as it was; paths that say the same are the same objects.
 * @param {Folding} before used up: it is not to be folded onto again
 * @param {Opened[]} entries
 * @returns {Folding | null} null: one changes more than its path, fold all of them again
 */
export function foldOn(before, entries) {
  if (!entries.length) return before;
  for (const entry of entries) if (!isPlaced(before, entry)) return null;
  return { ...before, fold: withPaths(before, entries) };
}

/**
 * @param {Folding} before changed
 * @param {Opened} entry
 * @returns {boolean} false: it changes more than its path
 */
function isPlaced(before, entry) {
  const { unique, erasures, times, paths, ends } = before;
  const { id, log, seq, body } = entry;
  const end = ends.get(log);
  // Out of its log's order it may move what was told after it.
  if (unique.has(id) || erasures.has(id) || body.path === "erasures" || (end && seq <= end.seq)) return false;
  const ms = Math.max(end?.ms ?? 0, correctedMs(body.at));
  ends.set(log, { seq, ms });
  unique.set(id, entry);
  times.set(id, ms);
  let own = paths.get(body.path);
  if (!own) paths.set(body.path, (own = { sets: [], adds: [], strikes: [] }));
  const list = listOf(own, entry);
  if (list) list.splice(placeIn(list.map((told) => told.id), entry, before), 0, entry);
  return true;
}

/**
 * @param {Folding} before with the entries in their places
 * @param {Opened[]} told
 * @returns {Fold}
 */
function withPaths(before, told) {
  const { fold, erasures, shells, times, gone } = before;
  const [order, entries] = [[...fold.order], Object.assign({}, fold.entries)];
  for (const entry of told) {
    order.splice(placeIn(order, entry, before), 0, entry.id);
    entries[entry.id] = meta(entry, /** @type {number} */ (times.get(entry.id)));
  }
  const [values, rows] = [{ ...fold.values }, { ...fold.rows }];
  const touched = (/** @type {boolean} */ isAnswer) => new Set(told.filter(({ body }) => (body.op === "set") === isAnswer).map(({ body }) => body.path));
  for (const path of touched(true)) Object.defineProperty(values, path, said(heads(ofPath(before, path).sets, gone)));
  for (const path of touched(false)) {
    const { adds, strikes } = ofPath(before, path);
    const named = [...adds, ...strikes, ...shells.filter(({ body }) => body.path === path)];
    const struck = struckIn(named, erasures);
    if (adds.length) Object.defineProperty(rows, path, said(adds.map((entry) => row(entry, struck))));
  }
  return { values, rows, entries, order };
}

/**
 * @param {Folding} folding
 * @param {string} path
 * @returns {OfPath}
 */
function ofPath({ paths }, path) {
  return /** @type {OfPath} */ (paths.get(path));
}

/**
 * A path may have any name, also one that every object has.
 * @param {unknown} value
 * @returns {PropertyDescriptor}
 */
function said(value) {
  return { value, enumerable: true, configurable: true, writable: true };
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
