/** @import { Found, Told } from "./types-found.js" */
/** @import { StandingRow } from "./types.js" */
import { stillLies } from "./deep.js";
import { atRow } from "./found.js";
import { remark } from "./remarks.js";
import { rowsOf } from "./rows.js";
import { isBefore, looksOf, textOf, when } from "./way.js";

/** Where no pulse is said, the arrest's own clock is asked for beside it. */
export const NO_PULSE = "vt_vf_no_pulse";

/**
 * Return each VT or VF told; it stands until it is told or seen to have ended.
 * @param {Told} told
 * @param {string} wire
 * @returns {Found[]}
 */
export function vtVf(told, wire) {
  const rows = rowsOf(told.fold, `wires/${wire}/advance.vt_vf`);
  return rows.map((row) => {
    const one = remark(code(row), "look_now", {}, [], "vt_vf");
    return atRow(one, row, wire, !hasEnded(told, wire, row));
  });
}

/** @param {StandingRow} row */
function code(row) {
  if (row.value.pulse === "no") return NO_PULSE;
  const rhythm = textOf(row, "rhythm");
  return ["vt", "vf"].includes(rhythm) ? rhythm : "vt_or_vf";
}

/** Tell whether what ended it was said, or a later reading showed a pattern. @param {Told} told @param {string} wire @param {StandingRow} row */
function hasEnded(told, wire, row) {
  if (textOf(row, "ended_by") || !stillLies(told, wire, when(row))) return true;
  const looks = looksOf(told.fold, wire);
  if (looks.some((look) => look.chamber && isBefore(when(row), when(look.row)))) return true;
  return rowsOf(told.fold, "indication.pulse_back").some((one) => isBefore(when(row), when(one)));
}
