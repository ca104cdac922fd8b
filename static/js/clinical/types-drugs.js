/**
 * Shapes of drugs and their sums; no code. As in `webapp/clinical/amounts.py` and beside it.
 *
 * @typedef {import("./types.js").Exact} Exact
 * @typedef {{low: Exact | null, high: Exact | null}} Amount not less, not more; null: not known
 *
 * @typedef {object} AnaestheticSum All lidocaine of a case, as shown; mg and mL.
 * @property {string} given_mg never too little
 * @property {boolean} at_least a dose, strength or volume is not stated
 * @property {string | null} limit_mg never too much; null: none
 * @property {string | null} left_ml of the strength given last
 * @property {string} strength %
 * @property {string | null} fraction of the limit
 * @property {boolean} is_over
 * @property {boolean} weight_known else the cap alone, in a child no limit
 * @property {string[]} limits keys of the policy rows
 * @property {string[]} reduce codes of why less than the limit is to be expected
 * @property {string[]} others agents without a limit worked out
 * @property {string[]} ids
 *
 * @typedef {object} DoseBounds What doses are held against, mg; null is silent.
 * @property {Exact | null} low of one dose
 * @property {Exact | null} high of one dose
 * @property {Exact | null} total
 * @property {string[][]} keys policy rows of one dose, then of the total
 *
 * @typedef {object} DrugTotal
 * @property {string} drug
 * @property {string | null} total in `unit`; null: no dose known
 * @property {string} unit
 * @property {boolean} at_least more was given than is stated
 * @property {number} doses
 * @property {string[]} ids
 *
 * @typedef {object} Measure One laboratory value or measure with its place.
 * @property {string} name
 * @property {any} value any: as kept
 * @property {string} path
 * @property {string} wire
 * @property {string[]} ids
 * @property {boolean} is_last nobody told the same later
 */

export {};
