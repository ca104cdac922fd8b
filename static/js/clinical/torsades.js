/** @import { Fold } from "../types.js" */
/** @import { Found, Told } from "./types-found.js" */
/** @import { StandingRow } from "./types.js" */
import { settingsRows } from "./asynchronous.js";
import { certainEnds } from "./certain.js";
import { decimal, isLess, number } from "./exact.js";
import { atRow, found } from "./found.js";
import { heads, isOver } from "./over.js";
import { remark } from "./remarks.js";
import { rowsOf } from "./rows.js";

const NAMED = ["indication.main_rhythm", "indication.with_rhythms"];
const TORSADES = ["torsades_bradycardia", "torsades"];

/**
 * Return what is found about paced rates where torsades is the reason.
 * @param {Told} told
 * @returns {Found[]}
 */
export function torsadesRemarks(told) {
  const again = told.wires.map((wire) => ({ wire, rows: againRows(told, wire) }));
  const all = again.flatMap(({ wire, rows }) => againFound(told, wire, rows));
  if (!isTorsades(told.fold) && again.every(({ rows }) => rows.length === 0)) return all;
  return [...all, ...told.wires.flatMap((wire) => lowRates(told, wire)), ...lowPlan(told)];
}

/**
 * Tell whether torsades is named among the rhythms of the indication.
 * @param {Fold} fold
 * @returns {boolean}
 */
export function isTorsades(fold) {
  const named = NAMED.flatMap((path) => heads(fold, path)).flat(1);
  return named.some((one) => TORSADES.includes(one));
}

/** @param {Told} told @param {string} wire */
function againRows(told, wire) {
  return rowsOf(told.fold, `wires/${wire}/capture.rhythm_again`).filter((row) => row.value.rhythm === "torsades");
}

/** Return target rates, then rates read back, each in time. @param {Told} told @param {string} wire */
function rates(told, wire) {
  const target = rowsOf(told.fold, `wires/${wire}/capture.target_rate`);
  return [target, settingsRows(told.fold, wire)].map((rows) => rows.filter((row) => "rate" in row.value));
}

/** @param {Told} told @param {string} wire @returns {Found[]} */
function lowRates(told, wire) {
  const isDone = isOver(told.fold, wire);
  return rates(told, wire).flatMap((rows) =>
    rows.flatMap((row) => low(told, row.value.rate).map((one) => atRow(one, row, wire, row === rows.at(-1) && !isDone))),
  );
}

/** @param {Told} told @returns {Found[]} */
function lowPlan(told) {
  const planned = told.fold.values["finish.target_rate"] ?? [];
  return planned.flatMap((head) => low(told, head.value).map((one) => found(one, "finish.target_rate", "", [...head.entries])));
}

/** @param {Told} told @param {any} rate any: a quantity as kept */
function low(told, rate) {
  const key = "torsades_rate_protective_per_min";
  const [high, bound] = [certainEnds(rate, "/min")[1], number(told.limits[key])];
  if (!high || !bound || isLess(bound, high)) return [];
  return [remark("torsades_rate_low", "look_again", { rate: decimal(high) }, [key])];
}

/**
 * Return each recurrence; a faster rate told since puts it right.
 * @param {Told} told
 * @param {string} wire
 * @param {StandingRow[]} rows
 * @returns {Found[]}
 */
function againFound(told, wire, rows) {
  const toldRates = rates(told, wire).flat();
  return rows.map((row) => {
    const at = certainEnds(row.value.rate_then, "/min")[1];
    const later = toldRates.filter((one) => one.time_ms > row.time_ms).map((one) => certainEnds(one.value.rate, "/min")[0]);
    const isFaster = at !== null && later.some((n) => n && isLess(at, n));
    const one = at
      ? remark("torsades_again", "look_again", { rate: decimal(at) }, [], "torsades")
      : remark("torsades_again_unsaid", "look_again", {}, [], "torsades");
    return atRow(one, row, wire, !isFaster && !isOver(told.fold, wire));
  });
}
