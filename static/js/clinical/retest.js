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
    ...told.map((row) => ({ code: row.value.what, time_ms: row.time_ms })),
    ...passes.map((row) => ({ code: "repositioned", time_ms: row.time_ms })),
    ...generators.map((row) => ({ code: "generator", time_ms: row.time_ms })),
    ...moves(looks, limits),
    ...balloonChanges(looks),
  ].sort((a, b) => a.time_ms - b.time_ms);
}

/**
 * Return the last change after a test, or null.
 * @param {number} testMs
 * @param {Change[]} told in time
 * @returns {Change | null}
 */
export function since(testMs, told) {
  return told.filter((change) => change.time_ms > testMs).at(-1) ?? null;
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
  for (const { value, time_ms } of looks) {
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
    if (!isLess(size, bound)) found.push({ code: "depth", time_ms });
  }
  return found;
}

/**
 * @param {StandingRow[]} looks in time
 * @returns {Change[]}
 */
function balloonChanges(looks) {
  const told = looks
    .map(({ value, time_ms }) => ({ state: "balloon" in value ? value.balloon : value.state, time_ms }))
    .filter(({ state }) => BALLOON.includes(state));
  return told
    .filter(({ state }, n) => n > 0 && state !== told[n - 1].state)
    .map(({ time_ms }) => ({ code: "balloon", time_ms }));
}
