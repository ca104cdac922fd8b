/** @import { AnswerRead, FieldSpec } from "../types-form.js" */
import { check } from "./kinds.js";

/**
 * Return what one value of a field comes to.
 * @param {FieldSpec | null} field
 * @param {any} value any: a value of whatever kind
 * @returns {AnswerRead["state"]}
 */
export function stateOf(field, value) {
  if (typeof value === "object" && value && "absent" in value) {
    return ["not_known", "not_done"].includes(value.absent) ? value.absent : "not_asked";
  }
  if (!field) return "answered";
  return ["impossible", "illegal"].includes(check(field, value).state) ? "impossible" : "answered";
}
