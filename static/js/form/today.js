/** @import { Bedside } from "../types-form.js" */
import { stamp } from "../log/clock.js";
import { local } from "./instants.js";

const MINUTE_MS = 60_000;

/** The last answer: every field of a page asks within the same minute. */
let last = { key: "", today: "", zone: "" };

/**
 * Return the local day and the zone whose wall clock typed times mean.
 * @param {Pick<Bedside, "store" | "clock">} bed
 * @returns {{today: string, zone: string}}
 */
export function settingOf(bed) {
  const zone = bed.store.zone();
  const minute = Math.floor(bed.clock() / MINUTE_MS);
  const key = `${zone} ${minute}`;
  if (last.key !== key) last = { key, zone, today: local({ ...stamp(minute * MINUTE_MS, zone) }).day };
  return last;
}
