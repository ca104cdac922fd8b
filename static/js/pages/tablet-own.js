/** @import { Bedside, QuestionRead } from "../types-form.js" */
import { drawFinish } from "./tablet-finish.js";
import { drawKit } from "./tablet-kit.js";

/**
 * Draw what one part has beside its fields and no other has.
 * @param {Bedside} bed
 * @param {string} part
 * @param {QuestionRead[]} questions
 */
export function drawOwn(bed, part, questions) {
  if (part === "finish") drawFinish(bed, questions);
  if (part === "approach") drawKit(bed);
}
