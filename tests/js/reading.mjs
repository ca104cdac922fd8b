/** `holds` with its answers as data, so that a vector file can call it. */
import { holds } from "../../static/js/form/when.js";

const NOTHING = { values: [], ids: [], rows: [] };

/**
 * @param {object} condition
 * @param {{[path: string]: object}} answers path to {values, ids, rows, unit, units}
 */
export function holdsIn(condition, answers) {
  return holds(condition, (path) => ({ ...NOTHING, ...answers[path] }));
}
