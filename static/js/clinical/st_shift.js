/** @import { Found, Told } from "./types-found.js" */
/** @import { Look } from "./types-way.js" */
/** @import { Remark, StandingRow } from "./types.js" */
import { stillLies } from "./deep.js";
import { compare, isLess, number, ratio } from "./exact.js";
import { atRow } from "./found.js";
import { stMv } from "./guidance.js";
import { remark } from "./remarks.js";
import { endsOf } from "./rows.js";
import { isBefore, looksOf, when } from "./way.js";

const LARGE_KEY = "st_perforation_prompt_mv";
const LEVEL = ratio(0n, 1n);

/**
 * Return where ST is shifted while the pattern is atrial.
 * @param {Told} told
 * @param {string} wire
 * @returns {Found[]}
 */
export function stInAtrium(told, wire) {
  const looks = looksOf(told.fold, wire);
  const shifted = looks.filter((look) => look.chamber === "ra" && isShifted(look.row));
  return shifted.map((look) => at(told, wire, remark("st_in_atrium", "look_again"), look, looks));
}

/**
 * Return where ST is above what permanent leads had before they perforated.
 * @param {Told} told
 * @param {string} wire
 * @returns {Found[]}
 */
export function stLarge(told, wire) {
  const bound = number(told.limits[LARGE_KEY]);
  if (!bound) return [];
  const looks = looksOf(told.fold, wire);
  return looks.flatMap((look) => {
    const mv = stMv(mm(look.row), look.row.value.st_gain);
    const size = number(mv?.replace("-", ""));
    if (mv === null || !size || !isLess(bound, size)) return [];
    const values = { mv, limit: told.limits[LARGE_KEY] };
    return [at(told, wire, remark("st_large", "look_again", values, [LARGE_KEY]), look, looks)];
  });
}

/** Return a remark that stands until another pattern was read. @param {Told} told @param {string} wire @param {Remark} one @param {Look} look @param {Look[]} looks */
function at(told, wire, one, { row }, looks) {
  const later = looks.some((other) => other.chamber && isBefore(when(row), when(other.row)));
  return atRow(one, row, wire, !later && stillLies(told, wire, when(row)));
}

/** Return a shift in mm when it is one number; nothing is converted. @param {StandingRow} row @returns {string | null} */
function mm(row) {
  const value = row.value.st_mm;
  const [low, high] = endsOf(value, "mm");
  return !low || !high || compare(low, high) !== 0 || "low" in value ? null : value.n;
}

/** Tell whether ST is surely off the line: "2", "> 1" and "1 to 2" are. @param {StandingRow} row */
function isShifted(row) {
  const [low, high] = endsOf(row.value.st_mm, "mm");
  return (low !== null && isLess(LEVEL, low)) || (high !== null && isLess(high, LEVEL));
}
