/** @import { Fold, Opened } from "../types.js" */
/** @import { Folding, OfPath } from "../types-fold.js" */
import { erasuresIn, shellOf } from "./erased.js";
import { heads, meta, row } from "./fold-path.js";
import { inTime } from "./fold-times.js";
import { strikesThatHold } from "./strikes.js";

/** Raised with every change of what folding gives. The same as in `record/fold.py`. */
export const FOLD_VERSION = 3;

/**
 * Fold entries into what the record says now; the same in any order of arrival.
 * `webapp/record/fold.py` gives the same JSON; `fixtures/logs/` holds them together.
 * @param {Iterable<Opened>} entries counted ones, one record
 * @returns {Fold}
 */
export function fold(entries) {
  return folding(entries).fold;
}

/**
 * Fold entries, and keep what is needed to fold one more onto them.
 * @param {Iterable<Opened>} entries
 * @returns {Folding}
 */
export function folding(entries) {
  /** @type {Map<string, Opened>} */
  const unique = new Map();
  for (const entry of entries) if (!unique.has(entry.id)) unique.set(entry.id, entry);
  const erasures = erasuresIn(unique);
  const shells = [...erasures].map(([id, told]) => shellOf(id, told));
  for (const { id } of shells) unique.delete(id);
  return foldingOf({ unique, erasures, shells, times: inTime([...unique.values()]) });
}

/**
 * Fold entries that are in order already, erased ones left out.
 * @param {{entry: Opened, ms: number}[]} told
 * @returns {Folding}
 */
export function foldingInOrder(told) {
  const unique = new Map(told.map(({ entry }) => [entry.id, entry]));
  const erasures = erasuresIn(unique);
  const shells = [...erasures].map(([id, by]) => shellOf(id, by));
  return foldingOf({ unique, erasures, shells, times: new Map(told.map(({ entry, ms }) => [entry.id, ms])) });
}

/**
 * @param {Pick<Folding, "unique" | "erasures" | "shells" | "times">} found
 * @returns {Folding}
 */
function foldingOf({ unique, erasures, shells, times }) {
  const paths = byPath([...times.keys()].map((id) => /** @type {Opened} */ (unique.get(id))));
  const gone = new Set(shells.flatMap(({ body }) => body.seen));
  const whole = { unique, erasures, shells, times, paths, gone, ends: endsOf(unique.values(), times) };
  // Answers are never struck.
  const named = [...unique.values(), ...shells].filter(({ body }) => body.op !== "set");
  return { ...whole, fold: foldOf(whole, struckIn(named, erasures)) };
}

/**
 * Return, for each struck entry, what struck it: the strike that holds or, where that
 * was erased, what tells of it.
 * @param {Opened[]} entries shells of erased ones included
 * @param {Map<string, Opened>} erasures
 * @returns {Map<string, Opened>}
 */
export function struckIn(entries, erasures) {
  const strikes = strikesThatHold(new Map(entries.map((entry) => [entry.id, entry])));
  return new Map([...strikes].map(([id, strike]) => [id, erasures.get(strike.id) ?? strike]));
}

/**
 * @param {Omit<Folding, "fold">} whole
 * @param {Map<string, Opened>} struck
 * @returns {Fold}
 */
function foldOf({ unique, times, paths, gone }, struck) {
  /** @type {Fold} */
  const made = { values: {}, rows: {}, entries: {}, order: [...times.keys()] };
  /** @type {[string, Fold["values"][string]][]} */
  const values = [];
  /** @type {[string, Fold["rows"][string]][]} */
  const rows = [];
  for (const [path, { sets, adds }] of paths) {
    if (sets.length) values.push([path, heads(sets, gone)]);
    if (adds.length) rows.push([path, adds.map((entry) => row(entry, struck))]);
  }
  // Ids are of one form, which no name of an object's own has.
  for (const [id, ms] of times) made.entries[id] = meta(/** @type {Opened} */ (unique.get(id)), ms);
  return { ...made, values: Object.fromEntries(values), rows: Object.fromEntries(rows) };
}

/**
 * @param {Opened[]} entries in order
 * @returns {Map<string, OfPath>}
 */
function byPath(entries) {
  /** @type {Map<string, OfPath>} */
  const paths = new Map();
  for (const entry of entries) {
    let own = paths.get(entry.body.path);
    if (!own) paths.set(entry.body.path, (own = { sets: [], adds: [], strikes: [] }));
    listOf(own, entry)?.push(entry);
  }
  return paths;
}

/**
 * @param {Iterable<Opened>} entries
 * @param {Map<string, number>} times
 * @returns {Folding["ends"]} each log's last place, and its time
 */
function endsOf(entries, times) {
  /** @type {Folding["ends"]} */
  const ends = new Map();
  for (const { id, log, seq } of entries) {
    const ms = times.get(id) ?? 0;
    const end = ends.get(log);
    if (!end) ends.set(log, { seq, ms });
    else Object.assign(end, { seq: Math.max(end.seq, seq), ms: Math.max(end.ms, ms) });
  }
  return ends;
}

/**
 * @param {OfPath} own
 * @param {Opened} entry
 * @returns {Opened[] | null} the list that it belongs to; null: nobody knows what it does
 */
export function listOf({ sets, adds, strikes }, { body }) {
  return { set: sets, add: adds, strike: strikes }[body.op] ?? null;
}
