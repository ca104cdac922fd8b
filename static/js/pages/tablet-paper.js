/** @import { Bedside } from "../types-form.js" */
import { key } from "../form/dom.js";
import { say } from "../form/say.js";
import { showOverPaper } from "./tablet-over-paper.js";
import { paperSheet } from "./tablet-paper-sheet.js";

/**
 * Return the key that opens the paper copy of the case the page is about.
 * @param {Bedside} bed
 * @returns {HTMLButtonElement}
 */
export function paperKey(bed) {
  return key(say("paper.key"), () => void showPaper(bed), { "data-act": "paper" });
}

/**
 * Show the whole case as it prints, over everything.
 * @param {Bedside} bed
 */
export function showPaper(bed) {
  const { record } = bed;
  return showOverPaper(bed, say("paper.title"), async () => (bed.record === record ? paperSheet(bed) : null));
}
