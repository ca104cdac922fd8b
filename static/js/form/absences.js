/** The absences every kind takes: not known, not stated, not done because, not asked. */

import { isSaid } from "./typed.js";
import { found, hasKeys, illegal } from "./verdicts.js";

/** @typedef {import("../types-form.js").FieldSpec} FieldSpec */
/** @typedef {import("../types.js").JsonObject} JsonObject */
/** @typedef {import("../types-form.js").Verdict} Verdict */

/**
 * Judge not known, not stated by a report, not done because, not asked.
 * @param {FieldSpec} field
 * @param {JsonObject} value
 * @returns {Verdict}
 */
export function checkAbsence(field, value) {
  const { absent, because = "", not_stated_by: report } = value;
  if ((absent === "not_known" || absent === "not_asked") && hasKeys(value, ["absent"])) {
    return { state: "absent", problems: [] };
  }
  if (absent === "not_known" && hasKeys(value, ["absent", "not_stated_by"])) {
    return isSaid(report) ? { state: "absent", problems: [] } : illegal(field);
  }
  const isNotDone = hasKeys(value, ["absent"]) || hasKeys(value, ["absent", "because"]);
  if (absent !== "not_done" || !isNotDone || typeof because !== "string") return illegal(field);
  return isSaid(because) ? { state: "absent", problems: [] } : found("absent", field, "because_missing");
}
