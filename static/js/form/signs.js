/** The signs a value is written in: those that cannot be printed, or were lost. */

import { LOST, hasControl, hasHalfCharacter } from "./typed.js";
import { found, illegal, worst } from "./verdicts.js";

/** @typedef {import("../types-form.js").FieldSpec} FieldSpec */
/** @typedef {import("../types-form.js").Verdict} Verdict */

/**
 * Return a legal value's verdict, with what is remarked of its signs. Half of a surrogate
 * pair is in no file and makes it illegal; the others keep it as typed. A row's signs are
 * remarked child by child. An absence stays an absence.
 * @param {FieldSpec} field
 * @param {unknown} value
 * @param {Verdict} verdict
 * @returns {Verdict}
 */
export function withSigns(field, value, verdict) {
  const texts = textsOf(value);
  if (texts.some(hasHalfCharacter)) return illegal(field);
  if (field.kind === "group") return verdict;
  const isPrintable = !texts.some(hasControl);
  const judged = isPrintable ? verdict : worst([verdict, found("impossible", field, "control_characters")]);
  if (!texts.some((text) => text.includes(LOST))) return judged;
  const both = worst([judged, found("soft", field, "sign_lost")]);
  return judged.state === "absent" ? { ...both, state: "absent" } : both;
}

/**
 * Return every string of a value whose shape is known to be sound.
 * @param {unknown} value
 * @returns {string[]}
 */
function textsOf(value) {
  if (typeof value === "string") return [value];
  if (typeof value !== "object" || value === null) return [];
  return Object.values(value).flatMap(textsOf);
}
