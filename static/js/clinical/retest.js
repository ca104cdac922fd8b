/** @import { Fold } from "../types.js" */
/** @import { DepthRead, DepthSaid } from "./types-after.js" */
/** @import { Change, Limits } from "./types.js" */
import { depthCompared } from "./depth_moved.js";
import { depthsTold } from "./depths_told.js";
import { number } from "./exact.js";
import { PARTS } from "./left_at.js";
import { rowsOf } from "./rows.js";

const HOUR_MS = 3_600_000n;
/** A battery is changed behind a running generator; it is not in the list of section 14. */
const CHANGES = ["resecured", "repositioned", "cable", "generator", "balloon"];
const BALLOON = ["up", "down", "some_left"];
const TELL_TEST = ["threshold_test", "output_reading"];

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
  const looks = depthsTold(fold, wire);
  const paths = PARTS.flatMap((part) => TELL_TEST.map((name) => `${under}/${part}.${name}`));
  return [
    ...told.map((row) => change(row.value.what, row)),
    ...passes.map((row) => change("repositioned", row)),
    ...generators.map((row) => change("generator", row)),
    ...rowsOf(fold, ...paths).flatMap((row) => movesFrom(looks, row, limits)),
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
  const later = told.filter((one) => inTime(one, test) > 0);
  return later.findLast((one) => one.test === null || inTime(one.test, test) === 0) ?? null;
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
 * Return where a depth differs from the one before it, like compared with like, and where
 * somebody said that the wire moved.
 * @param {DepthSaid[]} looks in time
 * @param {Limits} limits
 * @returns {Change[]}
 */
function moves(looks, limits) {
  /** @type {Map<string, DepthRead>} */
  const last = new Map();
  const moved = looks.filter(({ depth, has_moved }) => {
    if (!depth) return has_moved;
    const before = last.get(depth.read_at);
    last.set(depth.read_at, depth);
    return has_moved || differ(before, depth, limits);
  });
  return moved.map((one) => change("depth", one));
}

/**
 * Return where a depth differs from the one a test was made at: small steps add up. That is
 * the last of its reference point before the test, else the first after it.
 * @param {DepthSaid[]} looks in time
 * @param {{time_ms: number, place: number}} test
 * @param {Limits} limits
 * @returns {Change[]}
 */
function movesFrom(looks, test, limits) {
  /** @type {Map<string, DepthRead>} */
  const madeAt = new Map();
  const moved = looks.filter((one) => {
    if (!one.depth) return false;
    const before = madeAt.get(one.depth.read_at);
    if (before && inTime(one, test) > 0) return differ(before, one.depth, limits);
    madeAt.set(one.depth.read_at, one.depth);
    return false;
  });
  return moved.map((one) => ({ ...change("depth", one), test }));
}

/** @param {DepthRead | undefined} before @param {DepthRead} after @param {Limits} limits @returns {boolean} */
function differ(before, after, limits) {
  return before !== undefined && depthCompared(before, after, limits) === "moved";
}

/**
 * @param {DepthSaid[]} looks in time
 * @returns {Change[]}
 */
function balloonChanges(looks) {
  const told = looks.filter(({ state }) => BALLOON.includes(state));
  return told.filter(({ state }, n) => n > 0 && state !== told[n - 1].state).map((one) => change("balloon", one));
}

/** @param {string} code @param {{time_ms: number, place: number}} at @returns {Change} */
function change(code, { time_ms, place }) {
  return { code, time_ms, place, test: null };
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
