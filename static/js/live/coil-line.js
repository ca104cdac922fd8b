/** @import { Fold } from "../types.js" */
import { beginRun, further } from "../clinical/coil.js";
import { decimal, number, plus } from "../clinical/exact.js";
import { AT_HUB } from "../clinical/read_at.js";
import { siteCode, siteSide } from "../clinical/sites.js";
import { looksOf } from "../clinical/way.js";

/**
 * Return the depth, cm at the hub, beyond which the wire went too far in the chamber it is in
 * now; null where nothing is counted yet.
 * @param {Fold} fold
 * @param {string} wire
 * @param {string | null | undefined} limitCm of this record, `coil_advance_without_change_cm`
 * @returns {string | null}
 */
export function coilLineCm(fold, wire, limitCm) {
  const bound = number(limitCm);
  if (!bound) return null;
  const [site] = siteSide(siteCode(fold, wire));
  const run = beginRun();
  for (const look of looksOf(fold, wire)) further(run, look, site);
  const origin = run.counts ? run.origins.get(AT_HUB) : null;
  return origin ? decimal(plus(origin.depth, bound)) : null;
}
