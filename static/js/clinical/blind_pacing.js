/** @import { Fold } from "../types.js" */
/** @import { Found, Told } from "./types-found.js" */
/** @import { StandingRow } from "./types.js" */
import { inArrest } from "./arrests.js";
import { firstCaptured, inTime } from "./capture_said.js";
import { entriesOf } from "./evidence.js";
import { found } from "./found.js";
import { heads, isOver } from "./over.js";
import { remark } from "./remarks.js";
import { ownRhythm, ownRows } from "./rhythm.js";
import { momentMs, rowsOf } from "./rows.js";

/**
 * Return the one remark on the first wire that was to pace so: guided by pacing alone in an arrest,
 * the last answer to "own rhythm?" none. Told before the pulse was back, of a wire that had not
 * captured before it; then it is past.
 * @param {Told} told
 * @returns {Found[]}
 */
export function blindPacingRemarks(told) {
  const own = ownRows(told.fold).at(-1);
  if (!own || ownRhythm(own).result !== "none") return [];
  for (const wire of told.wires) {
    const path = `wires/${wire}/advance.guided_by`;
    const rows = arrests(told.fold, wire, path);
    if (rows.length === 0 || !isByPacing(heads(told.fold, path))) continue;
    const evidence = entriesOf(told.fold, [path], [...rows, own]);
    const stands = inArrest(told.fold) && !isOver(told.fold, wire);
    return [found(remark("blind_pacing", "look_again"), path, wire, evidence, stands)];
  }
  return [];
}

/** @param {unknown[]} said */
function isByPacing(said) {
  return said.length === 1 && Array.isArray(said[0]) && said[0].length === 1 && said[0][0] === "pacing";
}

/** The arrests in which a guide of a wire was told, none captured before. @param {Fold} fold @param {string} wire @param {string} path */
function arrests(fold, wire, path) {
  const atMs = Math.max(0, ...entriesOf(fold, [path]).map((id) => fold.entries[id].time_ms));
  const captured = firstCaptured(fold, wire);
  return rowsOf(fold, "indication.arrest").filter((row) => {
    const isFirst = !captured || inTime(row, captured) < 0;
    return isFirst && backs(fold, row).every((back) => atMs < back);
  });
}

/** When the pulse of an arrest was back, as far as anybody told. @param {Fold} fold @param {StandingRow} arrest @returns {number[]} */
function backs(fold, arrest) {
  const own = momentMs(arrest.value.pulse_back);
  const later = rowsOf(fold, "indication.pulse_back").filter((row) => row.value.of === arrest.id);
  return [...later.map((row) => row.time_ms), ...(own === null ? [] : [own])];
}
