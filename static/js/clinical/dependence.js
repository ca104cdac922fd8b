/** @import { Dependence, Limits, OwnRhythm } from "./types.js" */
import { isLess, number } from "./exact.js";

/**
 * Return whether to treat the patient as dependent. Reliable: an own rate of at least
 * `own_rhythm_minimum_per_min`, and tolerated; everything else, not tested and not
 * asked included, is dependent. Without that limit (a child) the clinician's word decides.
 * @param {OwnRhythm} own
 * @param {Limits} limits
 * @returns {Dependence}
 */
export function dependence(own, limits) {
  const why = whyNot(own, limits);
  return { is_dependent: why !== "reliable", why };
}

/**
 * Return the kinds of threshold test that may be offered, the default first.
 * @param {boolean} isDependent
 * @param {boolean} padsReady said for this test
 * @param {boolean} doctorPresent said for this test
 * @returns {("full" | "margin_shown")[]}
 */
export function offeredTests(isDependent, padsReady, doctorPresent) {
  if (!isDependent) return ["full", "margin_shown"];
  return padsReady && doctorPresent ? ["margin_shown", "full"] : ["margin_shown"];
}

/**
 * Return whether a sensing test is offered: only with a rhythm to sense.
 * @param {boolean} isDependent
 * @returns {boolean}
 */
export function mayOfferSensingTest(isDependent) {
  return !isDependent;
}

/**
 * @param {OwnRhythm} own
 * @param {Limits} limits
 * @returns {string}
 */
function whyNot(own, limits) {
  if (own.result === null) return "not_asked";
  if (own.result !== "rhythm") return own.result;
  if (own.is_tolerated === null) return "tolerance_not_said";
  if (!own.is_tolerated) return "not_tolerated";
  const slowest = number(limits.own_rhythm_minimum_per_min);
  if (!slowest) return own.is_called_reliable ? "reliable" : "not_called_reliable";
  const rate = number(own.rate_per_min);
  if (!rate) return "rate_not_known";
  return isLess(rate, slowest) ? "slow" : "reliable";
}
