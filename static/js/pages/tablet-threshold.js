/** @import { Bedside } from "../types-form.js" */
import { say } from "../form/say.js";
import { captureNumbers } from "./tablet-numbers.js";
import { age } from "./tablet-panels.js";

/**
 * @typedef {object} ThresholdTold What may be said of the threshold wherever it stands.
 * @property {string | null} figure as its dial shows it, with its sign; null: `word` says it
 * @property {string} unit of the figure
 * @property {string} word
 * @property {string[]} said its age, and what it is
 * @property {boolean} isTested
 */

/**
 * Say what is known of the threshold of the page's wire: a figure, at most a figure, none
 * up to a figure, that it is to be tested again, or that it was never tested.
 * @param {Bedside} bed
 * @returns {ThresholdTold}
 */
export function thresholdTold(bed) {
  const { summary, ms } = captureNumbers(bed);
  const shown = summary?.shown ?? {};
  const since = ms === null ? [] : [age(bed, ms)];
  const unit = summary?.unit ?? "mA";
  /** @type {ThresholdTold} */
  const untested = { figure: null, unit, word: "–", said: [], isTested: false };
  if (!summary || (!summary.tests.length && !summary.retest)) return untested;
  if (summary.retest) return { ...untested, word: say("capture.retest"), said: [say(`capture.retest.${summary.retest}`)], isTested: true };
  if (shown.threshold) return { ...untested, figure: shown.threshold, said: since, isTested: true };
  if (shown.at_most) return { ...untested, figure: `≤ ${shown.at_most}`, said: [...since, say("capture.at_most")], isTested: true };
  if (!shown.none_up_to) return untested;
  const upTo = say("capture.none_up_to", { output: `${shown.none_up_to} ${unit}` });
  return { ...untested, word: say("capture.unknown"), said: [...since, upTo], isTested: true };
}
