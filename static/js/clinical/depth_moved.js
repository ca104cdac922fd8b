/** @import { Fold } from "../types.js" */
/** @import { DepthRead } from "./types-after.js" */
/** @import { Found, Told } from "./types-found.js" */
/** @import { Limits, StandingRow } from "./types.js" */
import { isLess, minus, number } from "./exact.js";
import { found } from "./found.js";
import { isOver } from "./over.js";
import { readAt } from "./read_at.js";
import { remark } from "./remarks.js";
import { oneAnswer, point, rowsOf } from "./rows.js";
import { shown } from "./shown.js";

const EXACT = ["ruler", "on_ring"];

/**
 * Return whether a wire moved: "same", "moved", "not_comparable", "". Both read exactly:
 * `depth_moved_ruler_cm` and more, else `depth_moved_estimated_cm`.
 * @param {DepthRead} before
 * @param {DepthRead} after
 * @param {Limits} limits
 * @returns {string}
 */
export function depthCompared(before, after, limits) {
  if (before.read_at !== after.read_at) return "not_comparable";
  const bound = number(limits[movedKey(before, after)]);
  if (!bound) return "";
  const apart = minus(after.depth, before.depth);
  return isLess({ n: apart.n < 0n ? -apart.n : apart.n, d: apart.d }, bound) ? "same" : "moved";
}

/**
 * Return the limit by which two depths are compared.
 * @param {DepthRead} before
 * @param {DepthRead} after
 * @returns {string}
 */
export function movedKey(before, after) {
  return before.is_exact && after.is_exact ? "depth_moved_ruler_cm" : "depth_moved_estimated_cm";
}

/**
 * Return a depth as read, null where it holds no possible number.
 * @param {{[child: string]: any}} value any: as kept
 * @param {string[]} ids
 * @returns {DepthRead | null}
 */
export function depthRead(value, ids) {
  const { n } = point(value.depth, "cm");
  const depth = number(n);
  if (n === null || !depth) return null;
  return { depth, read_at: readAt(value), is_exact: EXACT.includes(value.read_how), shown: shown(n), ids };
}

/**
 * Return the depth that Advance ends with, where there is one answer.
 * @param {Fold} fold
 * @param {string} wire
 * @returns {DepthRead | null}
 */
export function finalDepth(fold, wire) {
  const heads = fold.values[`wires/${wire}/advance.final_depth`] ?? [];
  const [first] = finalTold(fold, wire);
  return heads.length === 1 && first ? { ...first.depth, ids: [...heads[0].entries] } : null;
}

/**
 * Return each entry that tells the final depth, and the depth; of two answers both. Two answers
 * to where it was read leave that point not known.
 * @param {Fold} fold
 * @param {string} wire
 * @returns {{entry: string, depth: DepthRead}[]}
 */
export function finalTold(fold, wire) {
  const under = `wires/${wire}/advance`;
  const points = (fold.values[`${under}.final_read_at`] ?? []).map((head) => head.value);
  const read_at = points.length > 1 ? points : points[0];
  const read_how = oneAnswer(fold, `${under}.final_read_how`);
  return (fold.values[`${under}.final_depth`] ?? []).flatMap((head) =>
    head.entries.flatMap((entry) => {
      const depth = depthRead({ depth: head.value, read_at, read_how }, [entry]);
      return depth ? [{ entry, depth }] : [];
    }),
  );
}

/**
 * Return every depth read on the way in and at checks, in time.
 * @param {Fold} fold
 * @param {string} wire
 * @returns {{row: StandingRow, depth: DepthRead}[]}
 */
export function depthLooks(fold, wire) {
  const rows = rowsOf(fold, `wires/${wire}/advance.depth_reading`, `wires/${wire}/checks.check`);
  return rows.flatMap((row) => {
    const depth = depthRead(row.value, [row.id]);
    return depth ? [{ row, depth }] : [];
  });
}

/**
 * Return each check at which the wire had moved since the last like reading. The final depth
 * stands in place of the readings on the way in.
 * @param {Told} told
 * @param {string} wire
 * @returns {Found[]}
 */
export function depthRemarks(told, wire) {
  const looks = depthLooks(told.fold, wire);
  const checks = looks.filter(({ row }) => row.path.endsWith("/checks.check"));
  const final = finalDepth(told.fold, wire);
  const onWay = looks.filter(({ row }) => !row.path.endsWith("/checks.check")).map(({ depth }) => depth);
  const last = new Map((final ? [final] : onWay).map((depth) => [depth.read_at, depth]));
  return checks.flatMap(({ row, depth }, n) => {
    const before = last.get(depth.read_at);
    last.set(depth.read_at, depth);
    if (!before || depthCompared(before, depth, told.limits) !== "moved") return [];
    const values = { before: before.shown, after: depth.shown };
    const one = remark("depth_moved", "look_again", values, [movedKey(before, depth)]);
    return [found(one, row.path, wire, [...before.ids, ...depth.ids], n === checks.length - 1 && !isOver(told.fold, wire))];
  });
}
