/** @import { Fold } from "../types.js" */
/** @import { Found } from "./types-found.js" */
/** @import { StandingRow } from "./types.js" */
import { rowsOf } from "./rows.js";

/** What the catalogue's text of the evidence holds: ids of 36 letters, one space between. */
const MOST_IDS = 100;

/**
 * Return the evidence as an answer names it: ids, the last hundred, by a space.
 * @param {Found} found
 * @returns {string}
 */
export function evidenceText(found) {
  return found.evidence.slice(-MOST_IDS).join(" ");
}

/**
 * Return the latest answer to a remark that rested on just this evidence, or null. More
 * evidence makes it another remark, which is said again.
 * @param {Fold} fold
 * @param {Found} found
 * @returns {StandingRow | null}
 */
export function answerTo(fold, found) {
  const told = evidenceText(found);
  const rows = rowsOf(fold, `remarks.${found.remark.code}`);
  return rows.findLast((row) => (row.value.evidence ?? "") === told) ?? null;
}
