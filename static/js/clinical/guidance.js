/** @import { Exact } from "./types.js" */
import { decimal, number, quotient, ratio } from "./exact.js";

export const ATRIAL = ["high_ra", "mid_ra", "low_ra"];
const CARDIAC_ECG = ["svc", ...ATRIAL, "ivc", "rv_free", "rv_contact", "outflow_pa", "unclear", "no_complexes"];
const PACING = ["no_capture", "p_captured", "qrs_captured", "twitch", "cannot_tell"];
const IMAGING = ["not_seen", "ra", "across_valve", "rv_apex", "rv_other", "outflow_pa", "unclear"];
/**
 * clinical 4, as recorders have it: mm for 1 mV, by the catalogue's code of the gain.
 * @type {{[code: string]: Exact}}
 */
const GAINS = { mm_20: ratio(20n, 1n), mm_10: ratio(10n, 1n), mm_5: ratio(5n, 1n), mm_2_5: ratio(5n, 2n) };

/**
 * Return the results that can be read by a guide, in the order of their keys. Without P waves
 * ("none") the atrial ones are replaced by "above RV".
 * @param {string} guide
 * @param {string} pWaves
 * @returns {string[]}
 */
export function resultsFor(guide, pWaves) {
  if (guide === "pacing") return PACING;
  if (["fluoroscopy", "transthoracic", "transoesophageal"].includes(guide)) return IMAGING;
  if (guide !== "intracardiac_ecg") return [];
  if (pWaves !== "none") return CARDIAC_ECG;
  return CARDIAC_ECG.filter((one) => !ATRIAL.includes(one)).toSpliced(1, 0, "above_rv");
}

/**
 * Return the size of an ST shift, mV: mm by the gain; null where one is not known.
 * @param {unknown} mm
 * @param {unknown} gain
 * @returns {string | null}
 */
export function stMv(mm, gain) {
  const size = number(mm);
  const perMv = typeof gain === "string" && Object.hasOwn(GAINS, gain) ? GAINS[gain] : null;
  return size && perMv ? decimal(quotient(size, perMv)) : null;
}
