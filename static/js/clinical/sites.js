/** @import { Fold } from "../types.js" */
import { oneAnswer } from "./rows.js";

/**
 * Codes of the catalogue; what is not here has no bands and no limits (axillary too).
 * @type {{[code: string]: [string, string]}}
 */
export const SITES = {
  internal_jugular_right: ["neck", "right"],
  internal_jugular_left: ["neck", "left"],
  subclavian_infraclavicular_right: ["subclavian", "right"],
  subclavian_infraclavicular_left: ["subclavian", "left"],
  subclavian_supraclavicular_right: ["subclavian", "right"],
  subclavian_supraclavicular_left: ["subclavian", "left"],
  femoral_right: ["femoral", "right"],
  femoral_left: ["femoral", "left"],
  arm_right: ["arm", "right"],
  arm_left: ["arm", "left"],
};
const UPPER = ["internal_jugular_", "subclavian_", "axillary_", "arm_"];

/**
 * Return site and side of a catalogue's code, "" and "" where none is known.
 * @param {unknown} code
 * @returns {[string, string]}
 */
export function siteSide(code) {
  return typeof code === "string" && Object.hasOwn(SITES, code) ? SITES[code] : ["", ""];
}

/**
 * Return a wire's one answer to site and side, or "".
 * @param {Fold} fold
 * @param {string} wire
 * @returns {string}
 */
export function siteCode(fold, wire) {
  const told = oneAnswer(fold, `wires/${wire}/approach.site`);
  return typeof told === "string" ? told : "";
}

/**
 * Tell whether a wire came in above the heart: neck, chest or arm.
 * @param {string} code
 * @returns {boolean}
 */
export function isUpper(code) {
  return UPPER.some((one) => code.startsWith(one));
}

/**
 * Return the chambers in the order they are expected in, or none.
 * @param {string} site
 * @returns {string[]}
 */
export function expectedOrder(site) {
  if (["neck", "subclavian", "arm"].includes(site)) return ["svc", "ra", "rv"];
  return site === "femoral" ? ["ivc", "ra", "rv"] : [];
}
