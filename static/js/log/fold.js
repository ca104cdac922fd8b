/** @import { Answer, At, Fold, JsonObject, Meta, Opened, Row } from "../types.js" */
import { saidWhole } from "./answers.js";
import { erasuresIn, shellOf } from "./erased.js";
import { strikesThatHold } from "./strikes.js";

/** Raised with every change of what folding gives. The same as in `record/fold.py`. */
export const FOLD_VERSION = 3;

/** A skew beyond this is no clock's; it keeps sums exact in both languages. */
export const LARGEST_SKEW_MS = 10 ** 15;

/**
 * Fold entries into what the record says now; the same in any order of arrival.
 * `webapp/record/fold.py` gives the same JSON; `fixtures/logs/` holds them together.
 * @param {Iterable<Opened>} entries counted ones, one record
 * @returns {Fold}
 */
export function fold(entries) {
  /** @type {Map<string, Opened>} */
  const unique = new Map();
  for (const entry of entries) if (!unique.has(entry.id)) unique.set(entry.id, entry);
  const erasures = erasuresIn(unique);
  const shells = [...erasures].map(([id, told]) => shellOf(id, told));
  for (const { id } of shells) unique.delete(id);
  const times = inTime([...unique.values()]);
  const ordered = [...times.keys()].map((id) => /** @type {Opened} */ (unique.get(id)));
  const strikes = strikesThatHold(new Map([...unique, ...shells.map((shell) => /** @type {const} */ ([shell.id, shell]))]));
  const struck = new Map([...strikes].map(([id, strike]) => [id, erasures.get(strike.id) ?? strike]));
  const gone = shells.flatMap(({ body }) => body.seen);
  const sets = ordered.filter((entry) => entry.body.op === "set");
  const adds = ordered.filter((entry) => entry.body.op === "add");
  return {
    values: byPath(sets, (own) => heads(own, gone)),
    rows: byPath(adds, (own) => own.map((entry) => row(entry, struck))),
    entries: Object.fromEntries(ordered.map((entry) => [entry.id, meta(entry, times)])),
    order: [...times.keys()],
  };
}

/**
 * Return Unix milliseconds of an `at`, its clock's known skew taken off; 0 when unreadable.
 * @param {At} at
 * @returns {number}
 */
export function correctedMs(at) {
  const utc = at.utc.length === 20 ? at.utc.replace(/Z$/, ".000Z") : at.utc;
  const ms = Date.parse(utc);
  // One written form only, so that both languages read the same moments.
  if (Number.isNaN(ms) || utc.length !== 24 || new Date(ms).toISOString() !== utc) return 0;
  const skew = at.skew_ms;
  return typeof skew === "number" && Math.abs(skew) <= LARGEST_SKEW_MS ? ms - skew : ms;
}

/**
 * Order by corrected time, but never against the sequence of a log.
 * @param {Opened[]} entries
 * @returns {Map<string, number>} id to time, in order
 */
function inTime(entries) {
  /** @type {Map<string, number>} */
  const running = new Map();
  const keyed = [...entries].sort(bySeq).map((entry) => {
    const ms = Math.max(running.get(entry.log) ?? 0, correctedMs(entry.body.at));
    running.set(entry.log, ms);
    return { entry, ms };
  });
  keyed.sort((a, b) => a.ms - b.ms || compare(a.entry.log, b.entry.log) || bySeq(a.entry, b.entry));
  return new Map(keyed.map(({ entry, ms }) => [entry.id, ms]));
}

/**
 * @param {Opened} a
 * @param {Opened} b
 * @returns {number}
 */
function bySeq(a, b) {
  return a.seq - b.seq || compare(a.id, b.id);
}

/**
 * @param {string} a
 * @param {string} b
 * @returns {number}
 */
function compare(a, b) {
  return a < b ? -1 : Number(a > b);
}

/**
 * @template T
 * @param {Opened[]} entries
 * @param {(own: Opened[]) => T} make
 * @returns {{[path: string]: T}}
 */
function byPath(entries, make) {
  /** @type {Map<string, Opened[]>} */
  const paths = new Map();
  for (const entry of entries) {
    const own = paths.get(entry.body.path);
    if (own) own.push(entry);
    else paths.set(entry.body.path, [entry]);
  }
  return Object.fromEntries([...paths].map(([path, own]) => [path, make(own)]));
}

/**
 * @param {Opened[]} own in order
 * @param {string[]} gone ids that erased entries had seen
 * @returns {Answer[]}
 */
function heads(own, gone) {
  const seen = new Set(own.flatMap((entry) => entry.body.seen.filter((id) => id !== entry.id)).concat(gone));
  /** @type {Map<string, Answer>} */
  const found = new Map();
  for (const { id, body } of own.filter((entry) => !seen.has(entry.id))) {
    const key = saidWhole(body.value);
    const same = found.get(key);
    if (same) same.entries.push(id);
    else found.set(key, { value: body.value, entries: [id] });
  }
  return [...found.values()];
}

/**
 * @param {Opened} entry
 * @param {Map<string, Opened>} struck
 * @returns {Row}
 */
function row({ id, body }, struck) {
  const by = struck.get(id);
  const reason = by ? (/** @type {JsonObject} */ (by.body.value).reason ?? null) : null;
  return { id, value: body.value, struck: by ? { by: by.id, reason } : null };
}

/**
 * @param {Opened} entry
 * @param {Map<string, number>} times
 * @returns {Meta}
 */
function meta({ id, log, seq, body }, times) {
  const { op, path, at, author, entered_by, called_by, source, how } = body;
  const time_ms = /** @type {number} */ (times.get(id));
  return { log, seq, op, path, at, author, entered_by, called_by, source, how, time_ms };
}
