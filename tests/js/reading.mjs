/** The tablet's kinds, conditions and words, with all they need as data. */
import { check, parse } from "../../static/js/form/kinds.js";
import { holds } from "../../static/js/form/when.js";
import { words } from "../../static/js/form/words.js";

const NOTHING = { values: [], ids: [], rows: [] };

/**
 * Whether a condition holds on answers, and the ids this rests on.
 * @param {object} condition
 * @param {{[path: string]: object}} answers path to {values, ids, rows, unit, units}
 */
export function holdsIn(condition, answers) {
  return holds(condition, (path) => ({ ...NOTHING, ...answers[path] }));
}

/**
 * Everything said of typed text: its value, the verdict, the words.
 * @param {object} field
 * @param {string} raw
 * @param {string | null} unit
 * @param {{today: string, zone: string}} setting
 */
export function typed(field, raw, unit, setting) {
  const value = parse(field, raw, unit, setting);
  return { value, ...judged(field, value, setting) };
}

/**
 * Everything said of a value: the verdict, the words.
 * @param {object} field
 * @param {unknown} value
 * @param {{today: string}} setting
 */
export function judged(field, value, setting) {
  return { verdict: check(field, value, setting), words: words(field, value, setting.today) };
}
