/** @import { Found, Told } from "./types-found.js" */
import { anaestheticRemarks } from "./anaesthetic_remarks.js";
import { atropineRemarks } from "./atropine.js";
import { infusionRemarks } from "./infusions.js";
import { thinnerRemarks } from "./thinners.js";

/**
 * Return the remarks on everything given, and on what thins the blood.
 * @param {Told} told
 * @returns {Found[]}
 */
export function drugsRemarks(told) {
  return [...thinnerRemarks(told), ...atropineRemarks(told), ...infusionRemarks(told), ...anaestheticRemarks(told)];
}
