/** @import { Limits, Policy } from "./types.js" */

/**
 * Return the single limits that apply, by key; a child gets no row for adults. What is absent is
 * silent: no adult limit is ever shown for a child.
 * @param {Policy} policy as in catalogue.json
 * @param {boolean} isAdult
 * @returns {Limits}
 */
export function limits(policy, isAdult) {
  const applies = (/** @type {string} */ ages) => ages === "all" || (ages === "adult" && isAdult);
  const rows = Object.entries(policy.rows).filter(([, row]) => !row.kind && applies(row.ages));
  return Object.fromEntries(rows.map(([key, row]) => [key, row.value]));
}
