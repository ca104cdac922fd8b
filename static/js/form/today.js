/** @import { Bedside } from "../types.js" */
import { stamp } from "../log/clock.js";
import { local } from "./instants.js";

/**
 * Return the local day and the zone whose wall clock typed times mean.
 * @param {Pick<Bedside, "store" | "clock">} bed
 * @returns {{today: string, zone: string}}
 */
export function settingOf(bed) {
  const zone = bed.store.zone();
  return { today: local({ ...stamp(bed.clock(), zone) }).day, zone };
}
