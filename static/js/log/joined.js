/** @import { Fold, Json } from "../types.js" */

const JOINED_TO = "joined_to";

/**
 * Return what one folded record says it is joined to; struck joins say nothing.
 * @param {Fold} fold
 * @returns {Json[]}
 */
export function joins({ rows }) {
  const told = Object.hasOwn(rows, JOINED_TO) ? rows[JOINED_TO] : [];
  return told.filter(({ struck }) => struck === null).map(({ value }) => value);
}

/**
 * Return the records as cases: the ids of each, sorted, and the cases sorted. A join to
 * itself changes nothing; one that names a record which is not here joins nothing by
 * itself. `webapp/record/joined.py` gives the same; `fixtures/logs/joined-*.json` hold both.
 * @param {{[record: string]: Json[]}} told every record here, with its `joins`
 * @returns {string[][]}
 */
export function joined(told) {
  /** @type {Map<string, Set<string>>} */
  const cases = new Map();
  for (const [record, values] of Object.entries(told)) {
    meet(cases, record, record);
    for (const value of values) {
      const isRow = typeof value === "object" && value !== null && !Array.isArray(value);
      if (isRow && typeof value.record === "string") meet(cases, record, value.record);
    }
  }
  return [...new Set(cases.values())]
    .map((members) => [...members].filter((record) => Object.hasOwn(told, record)).sort())
    .filter((members) => members.length > 0)
    .sort(([a], [b]) => (a < b ? -1 : Number(a > b)));
}

/**
 * @param {Map<string, Set<string>>} cases
 * @param {string} one
 * @param {string} other
 * @returns {void}
 */
function meet(cases, one, other) {
  const both = new Set([...(cases.get(one) ?? [one]), ...(cases.get(other) ?? [other])]);
  for (const record of both) cases.set(record, both);
}
