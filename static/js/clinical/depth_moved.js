/** @import { Fold } from "../types.js" */
/** @import { DepthRead } from "./types-after.js" */
/** @import { Found, Told } from "./types-found.js" */
/** @import { Limits, StandingRow } from "./types.js" */
import { isLess, minus, number } from "./exact.js";
import { found } from "./found.js";
import { isOver } from "./over.js";
import { remark } from "./remarks.js";
import { oneAnswer, point, rowsOf } from "./rows.js";
import { shown } from "./shown.js";

const EXACT = ["ruler", "on_ring"];
const STEP_CM = "1";

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
  const read_at = typeof value.read_at === "string" ? value.read_at : "";
  return { depth, read_at, is_exact: EXACT.includes(value.read_how), shown: shown(n, STEP_CM), ids };
}

/**
 * Return the depth that Advance ends with, at the sheath hub unless said.
 * @param {Fold} fold
 * @param {string} wire
 * @returns {DepthRead | null}
 */
export function finalDepth(fold, wire) {
  const under = `wires/${wire}/advance`;
  const heads = fold.values[`${under}.final_depth`] ?? [];
  const value = {
    depth: oneAnswer(fold, `${under}.final_depth`),
    read_at: oneAnswer(fold, `${under}.final_read_at`) || "sheath_hub",
    read_how: oneAnswer(fold, `${under}.final_read_how`),
  };
  return heads.length === 1 ? depthRead(value, [...heads[0].entries]) : null;
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
