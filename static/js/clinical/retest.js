/** @import { Fold } from "../types.js" */
/** @import { Change, Exact, Limits, StandingRow } from "./types.js" */
import { isLess, minus, number } from "./exact.js";
import { point, rowsOf } from "./rows.js";

const HOUR_MS = 3_600_000n;
/** A battery is changed behind a running generator; it is not in the list of section 14. */
const CHANGES = ["resecured", "repositioned", "cable", "generator", "balloon"];
const BALLOON = ["up", "down", "some_left"];

/**
 * Return every change of one wire's position, parts or balloon, in time.
 * @param {Fold} fold
 * @param {string} wire
 * @param {Limits} limits
 * @returns {Change[]}
 */
export function changes(fold, wire, limits) {
  const under = `wires/${wire}`;
  const told = rowsOf(fold, `${under}/capture.changed`).filter((row) => CHANGES.includes(row.value.what));
  const passes = rowsOf(fold, `${under}/advance.new_pass`);
  const generators = rowsOf(fold, `${under}/capture.generator`).slice(1);
  const looks = rowsOf(fold, ...["advance.depth_reading", "advance.balloon", "checks.check"].map((end) => `${under}/${end}`));
  return [
    ...told.map((row) => change(row.value.what, row)),
    ...passes.map((row) => change("repositioned", row)),
    ...generators.map((row) => change("generator", row)),
    ...moves(looks, limits),
    ...balloonChanges(looks),
  ].sort(inTime);
}

/**
 * Return the last change after a test's last reading, or null.
 * @param {{time_ms: number, place: number}} test
 * @param {Change[]} told in time
 * @returns {Change | null}
 */
export function since(test, told) {
  return told.filter((one) => inTime(one, test) > 0).at(-1) ?? null;
}

/**
 * Tell whether a test is older than `threshold_stale_h`; not asked without now.
 * @param {number} testMs
 * @param {number | null} nowMs
 * @param {Limits} limits
 * @returns {boolean}
 */
export function isOld(testMs, nowMs, limits) {
  const hours = number(limits.threshold_stale_h);
  if (nowMs === null || !hours) return false;
  return BigInt(nowMs - testMs) * hours.d > hours.n * HOUR_MS;
}

/**
 * Return where a depth differs from the one before it, like compared with like: the same
 * reference point; by ruler or on a ring both times a smaller difference counts.
 * @param {StandingRow[]} looks in time
 * @param {Limits} limits
 * @returns {Change[]}
 */
function moves(looks, limits) {
  /** @type {Change[]} */
  const found = [];
  /** @type {Map<string, {depth: Exact, exact: boolean}>} */
  const last = new Map();
  for (const row of looks) {
    const { value } = row;
    const depth = number(point(value.depth, "cm").n);
    if (!depth) continue;
    const place = typeof value.read_at === "string" ? value.read_at : "";
    const exact = value.read_how === "ruler" || value.read_how === "on_ring";
    const before = last.get(place);
    last.set(place, { depth, exact });
    const key = exact && before?.exact ? "depth_moved_ruler_cm" : "depth_moved_estimated_cm";
    const bound = number(limits[key]);
    if (!before || !bound) continue;
    const apart = minus(depth, before.depth);
    const size = { n: apart.n < 0n ? -apart.n : apart.n, d: apart.d };
    if (!isLess(size, bound)) found.push(change("depth", row));
  }
  return found;
}

/**
 * @param {StandingRow[]} looks in time
 * @returns {Change[]}
 */
function balloonChanges(looks) {
  const told = looks
    .map((row) => ({ row, state: "balloon" in row.value ? row.value.balloon : row.value.state }))
    .filter(({ state }) => BALLOON.includes(state));
  return told
    .filter(({ state }, n) => n > 0 && state !== told[n - 1].state)
    .map(({ row }) => change("balloon", row));
}

/** @param {string} code @param {StandingRow} row @returns {Change} */
function change(code, { time_ms, place }) {
  return { code, time_ms, place };
}

/**
 * Compare in time, and by the record's order where two times are equal.
 * @param {{time_ms: number, place: number}} a
 * @param {{time_ms: number, place: number}} b
 * @returns {number}
 */
function inTime(a, b) {
  return a.time_ms - b.time_ms || a.place - b.place;
}
