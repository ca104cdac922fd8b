/** @import { Found, Told } from "./types-found.js" */
/** @import { Look } from "./types-way.js" */
import { bandsFor, isWithin } from "./bands.js";
import { coil, ringsDisagree } from "./coil.js";
import { deep, deepLimitKey, resistance, stillLies } from "./deep.js";
import { isLess, number } from "./exact.js";
import { found } from "./found.js";
import { remark } from "./remarks.js";
import { siteCode, siteSide } from "./sites.js";
import { looksOf, when } from "./way.js";

/**
 * Return each wire's remarks on its depths.
 * @param {Told} told
 * @returns {Found[]}
 */
export function depthRemarks(told) {
  const parts = [resistance, deep, coil, ringsDisagree, fits];
  return told.wires.flatMap((wire) => parts.flatMap((part) => part(told, wire)));
}

/**
 * Say that the last depth lies in the band of the chamber it showed.
 * @param {Told} told
 * @param {string} wire
 * @returns {Found[]}
 */
export function fits(told, wire) {
  const look = looksOf(told.fold, wire).at(-1);
  if (!look?.depth) return [];
  const [site, side] = siteSide(siteCode(told.fold, wire));
  const limit = number(told.limits[deepLimitKey(site, side)]);
  if (!isWithin(bandsFor(site, side, told.age.is_adult), bandsOf(look, site), look.depth)) return [];
  if (limit && !isLess(look.depth, limit)) return [];
  if (!stillLies(told, wire, when(look.row))) return [];
  return [found(remark("depth_fits", "fits"), look.row.path, wire, [look.row.id])];
}

/** Return the bands in which a result is expected. @param {Look} look @param {string} site */
function bandsOf(look, site) {
  if (look.result === "above_rv") return ["before_ra", "ra"];
  if (look.chamber === "rv") return look.result === "rv_apex" ? ["rv_apex"] : ["rv", "rv_apex"];
  const entry = site === "femoral" ? "ivc" : "svc";
  return look.chamber === entry ? ["before_ra"] : [look.chamber];
}
