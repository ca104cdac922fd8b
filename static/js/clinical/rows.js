/** @import { Fold, Meta, Row } from "../types.js" */
/** @import { Exact, Point, StandingRow } from "./types.js" */
import { isLess, number, ratio } from "./exact.js";

/** One written form only, so that both languages read the same moments. */
const UTC = /^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}(\.[0-9]{3})?Z$/;

/** @type {{[unit: string]: [Exact, Exact]}} what a value can be at all, as the catalogue's hard ranges */
export const HARD = {
  mA: [ratio(0n, 1n), ratio(25n, 1n)],
  V: [ratio(0n, 1n), ratio(20n, 1n)],
  mV: [ratio(1n, 10n), ratio(30n, 1n)],
  "/min": [ratio(0n, 1n), ratio(800n, 1n)],
  cm: [ratio(0n, 1n), ratio(125n, 1n)],
  kg: [ratio(1n, 5n), ratio(700n, 1n)],
};
/** @type {[Exact, Exact]} */
export const HARD_HEIGHT = [ratio(20n, 1n), ratio(275n, 1n)];
/** @type {[string, string][]} */ const NO_POINT = [
  ["low", "a_range"],
  ["cmp", "compared"],
  ["special", "no_figure"],
];

/** @type {WeakMap<Fold, Map<string, number>>} a fold never changes */
const known = new WeakMap();

/**
 * Return each entry's place in the order of the record.
 * @param {Fold} fold
 * @returns {Map<string, number>}
 */
export function placesOf(fold) {
  const places = known.get(fold) ?? new Map(fold.order.map((id, n) => [id, n]));
  known.set(fold, places);
  return places;
}

/**
 * Return the rows of these groups that no strike takes out, in time.
 * @param {Fold} fold
 * @param {...string} paths
 * @returns {StandingRow[]}
 */
export function rowsOf(fold, ...paths) {
  const places = placesOf(fold);
  const found = paths.flatMap((path) =>
    (fold.rows[path] ?? []).filter(stands).map((row) => standing(path, row, fold.entries[row.id], places)),
  );
  return found.sort((a, b) => a.time_ms - b.time_ms || a.place - b.place);
}

/**
 * Return Unix milliseconds of an exact or about moment, or null.
 * @param {any} value any: a moment as kept
 * @returns {number | null}
 */
export function momentMs(value) {
  const utc = value?.utc;
  if (typeof utc !== "string" || !UTC.test(utc)) return null;
  const full = utc.length === 20 ? utc.replace("Z", ".000Z") : utc;
  const ms = Date.parse(full);
  return Number.isNaN(ms) || new Date(ms).toISOString() !== full ? null : ms;
}

/**
 * Return the record's paths of these per-wire groups, whichever the wire.
 * @param {Fold} fold
 * @param {string[]} ends
 * @returns {string[]}
 */
export function wirePaths(fold, ends) {
  return Object.keys(fold.rows).filter((path) => path.startsWith("wires/") && ends.some((end) => path.endsWith(`/${end}`)));
}

/**
 * Return the exact number of a quantity, when it is one in `unit` and possible. A range, a
 * comparator or "low" is no point; nothing is converted.
 * @param {any} value any: a quantity as kept
 * @param {string} unit UCUM
 * @param {[Exact, Exact]} [hard]
 * @returns {Point}
 */
export function point(value, unit, hard = HARD[unit]) {
  if (!isObject(value) || "absent" in value) return { n: null, why: "absent" };
  if (value.unit !== unit) return { n: null, why: "unit_not_known" };
  const other = NO_POINT.find(([key]) => key in value);
  if (other) return { n: null, why: other[1] };
  const exact = number(value.n);
  if (!exact) return { n: null, why: "unreadable" };
  const isOut = isLess(exact, hard[0]) || isLess(hard[1], exact);
  return isOut ? { n: null, why: "impossible" } : { n: value.n, why: "" };
}

/**
 * Return what a quantity says for certain: not below, not above. "30" gives both, "20-30"
 * its ends, "> 30" only the first.
 * @param {any} value any: a quantity as kept
 * @param {string} unit
 * @returns {[Exact | null, Exact | null]}
 */
export function endsOf(value, unit) {
  if (!isObject(value) || value.unit !== unit) return [null, null];
  if ("low" in value) return [number(value.low), number(value.high)];
  const exact = number(value.n);
  if (String(value.cmp ?? "").startsWith(">")) return [exact, null];
  return ["cmp" in value ? null : exact, exact];
}

/**
 * Return a field's one answer, or null for none, two, or a stated absence.
 * @param {Fold} fold
 * @param {string} path
 * @returns {any} any: the value as kept
 */
export function oneAnswer(fold, path) {
  const heads = fold.values[path] ?? [];
  /** @type {any} any: judged where it is read */
  const value = heads.length === 1 ? heads[0].value : null;
  return isObject(value) && "absent" in value ? null : value;
}

/**
 * @param {any} value any: what was kept
 * @returns {boolean}
 */
export function isObject(value) {
  return value !== null && typeof value === "object" && !Array.isArray(value);
}

/**
 * @param {Row} row
 * @returns {boolean}
 */
function stands(row) {
  return row.struck === null && isObject(row.value);
}

/**
 * @param {string} path
 * @param {Row} row
 * @param {Meta} meta
 * @param {Map<string, number>} places
 * @returns {StandingRow}
 */
function standing(path, row, meta, places) {
  const value = /** @type {{[child: string]: any}} any: judged where it is read */ (row.value);
  const time_ms = momentMs(value.moment) ?? meta.time_ms;
  return { id: row.id, path, value, log: meta.log, time_ms, place: places.get(row.id) ?? 0 };
}
