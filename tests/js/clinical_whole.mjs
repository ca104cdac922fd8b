// One record through every registered area, its summary and the whole list, read once.
import { AREAS } from "../../static/js/clinical/case_remarks.js";
import { run as runOne } from "./clinical.mjs";

const WHOLE = [...Object.keys(AREAS).map((name) => `in_${name}`), "case_remarks", "threshold_summary"];

let words = {};

/** Call one function, or with "whole_record" all that read a record; "words" come once. */
export function run(name, given, policy) {
  if (name === "words") {
    words = given;
    return null;
  }
  if (name !== "whole_record") return runOne(name, given.remark ? { words, ...given } : given, policy);
  return Object.fromEntries(WHOLE.map((one) => [one, runOne(one, given, policy) ?? null]));
}
