/** @import { Bedside, Standing } from "../types-form.js" */

const DRAFT = "who";
/** Later than this somebody else may hold the tablet: then it asks anew. */
const RECALLED_MS = 2 * 3_600_000;

/**
 * Keep who is here with the case, so that a kill does not make the entries nobody's.
 * @param {Bedside} bed
 */
export async function keepStanding(bed) {
  await bed.store.draft(bed.record, DRAFT, JSON.stringify(bed.standing)).catch(() => {});
}

/**
 * Enter a case: who is here stays; whose words, called by whom and how known are said
 * anew for each case, but come back with the one they were said in.
 * @param {Bedside} bed
 */
export async function enterStanding(bed) {
  const kept = await standingIn(bed, bed.record);
  const isTheirs = kept !== null && (!bed.standing.at.name || kept.at.name === bed.standing.at.name);
  bed.standing = isTheirs ? kept : { ...bed.standing, author: null, called_by: null, source: "seen" };
}

/**
 * Recall who was here when the tablet was last in use, if that was not long ago.
 * @param {Bedside} bed
 */
export async function recallStanding(bed) {
  const latest = await bed.store.latest();
  if (!latest || bed.clock() - latest.ms > RECALLED_MS) return;
  const kept = await standingIn(bed, latest.record);
  if (kept) bed.standing = { ...bed.standing, at: kept.at };
}

/**
 * @param {Bedside} bed
 * @param {string} record
 * @returns {Promise<Standing | null>}
 */
async function standingIn(bed, record) {
  const drafts = await bed.store.drafts(record).catch(() => /** @type {{[path: string]: string}} */ ({}));
  const text = drafts[DRAFT];
  return text ? JSON.parse(text) : null;
}
