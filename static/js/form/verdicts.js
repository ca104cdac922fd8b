/** What a kind says about a value: how it counts, and what is wrong with it. */

import { say } from "./say.js";

/** @typedef {import("../types-form.js").FieldSpec} FieldSpec */
/** @typedef {import("../types-form.js").Verdict} Verdict */
/** @typedef {import("../types-form.js").ValueState} ValueState */

/** @type {ValueState[]} */
const WEIGHT = ["absent", "ok", "soft", "impossible", "illegal"];

/** @type {Verdict} */
export const OK = { state: "ok", problems: [] };

/**
 * Return a verdict with one problem, told in the words of `problem.<code>`.
 * @param {ValueState} state
 * @param {FieldSpec} field
 * @param {string} code
 * @param {{[name: string]: unknown}} [values]
 * @returns {Verdict}
 */
export function found(state, field, code, values = {}) {
  const message = say(`problem.${code}`, { label: field.label, ...values });
  return { state, problems: [{ field: field.name, code, message }] };
}

/**
 * Return the verdict for a value that is not of the field's kind.
 * @param {FieldSpec} field
 * @returns {Verdict}
 */
export function illegal(field) {
  return found("illegal", field, "not_of_kind");
}

/**
 * Return the heaviest state among `verdicts`, with all their problems.
 * @param {Verdict[]} verdicts
 * @returns {Verdict}
 */
export function worst(verdicts) {
  /** @type {ValueState} */
  let state = "ok";
  for (const verdict of verdicts) {
    if (WEIGHT.indexOf(verdict.state) > WEIGHT.indexOf(state)) state = verdict.state;
  }
  return { state, problems: verdicts.flatMap((verdict) => verdict.problems) };
}

/**
 * Tell whether `value` is a JSON object (no list, no null).
 * @param {unknown} value
 * @returns {value is import("../types.js").JsonObject}
 */
export function isObject(value) {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/**
 * Tell whether `value` has exactly these keys.
 * @param {object} value
 * @param {string[]} keys
 * @returns {boolean}
 */
export function hasKeys(value, keys) {
  const own = Object.keys(value);
  return own.length === keys.length && keys.every((key) => Object.hasOwn(value, key));
}
