/** @import { CaseRead } from "../types-form.js" */
import { momentMs } from "../form/standing.js";
import { momentWords, words } from "../form/words.js";

/** @typedef {import("../live/time.js").Flag} Flag */

/**
 * Return when the case began: the decision to pace, else its first entry.
 * @param {CaseRead} now
 * @param {number} clock
 * @returns {{ms: number, isDecision: boolean}}
 */
export function startOf(now, clock) {
  const decision = now.rows("moments").find((row) => row.value.name === "decision");
  const decided = momentMs(decision?.value.moment);
  const first = now.fold.entries[now.fold.order[0] ?? ""];
  return { ms: decided ?? first?.time_ms ?? clock, isDecision: decided !== null };
}

/**
 * Return every moment of the case that has a clock time, in time, with its words.
 * @param {CaseRead} now
 * @param {string} today
 * @returns {Flag[]}
 */
export function flagsOf(now, today) {
  /** @type {Flag[]} */
  const flags = [];
  const add = (/** @type {any} any: a moment of a fold */ value, /** @type {string} */ label) => {
    const ms = momentMs(value);
    if (ms !== null) flags.push({ ms, label: `${label.toLowerCase()} ${momentWords(value, today)}` });
  };
  const name = now.index.top("moments")?.children.find((child) => child.name === "name");
  for (const row of now.rows("moments")) add(row.value.moment, name && row.value.name ? words(name, row.value.name) : "");
  for (const path of Object.keys(now.fold.values)) {
    const field = now.index.at(path)?.field;
    if (field?.kind === "moment") add(now.answer(path).value, field.label);
  }
  return flags.sort((a, b) => a.ms - b.ms);
}
