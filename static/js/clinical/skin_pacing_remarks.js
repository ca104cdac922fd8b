/** @import { Found, Told } from "./types-found.js" */
/** @import { Pads, StandingRow } from "./types.js" */
import { inOrder, lastMs } from "./evidence.js";
import { isLess, number, ratio } from "./exact.js";
import { found } from "./found.js";
import { padsAndCaptureRemarks } from "./pads_and_capture.js";
import { remark } from "./remarks.js";
import { openSpells, padsOf } from "./rhythm.js";
import { isObject, momentMs, point, rowsOf } from "./rows.js";

const READING = "indication.skin_pacing_reading";
const PADS = "indication.pads";
const SECOND_SIGNS = ["pleth", "arterial_line", "ultrasound"];
const OFF = ["none", "on_not_connected"];
/** @type {[import("./types.js").Exact, import("./types.js").Exact]} the catalogue's hard range through pads, mA */
const HARD = [ratio(0n, 1n), ratio(200n, 1n)];

/**
 * Return the remarks on each spell, on pads said off, and on capture beside them.
 * @param {Told} told
 * @returns {Found[]}
 */
export function skinPacingRemarks(told) {
  const pads = padsOf(told.fold);
  const readings = rowsOf(told.fold, READING);
  const ofSpells = pads.spells.flatMap((spell) => {
    const own = readings.filter((row) => row.value.of === spell.id);
    const over = isOver(spell, pads.stops);
    return [...twitch(own, over), ...disagreeing(own, over)];
  });
  // What names no known spell is judged too, each by itself.
  const known = pads.spells.map((spell) => spell.id);
  const loose = readings.filter((row) => !known.includes(row.value.of));
  return [...ofSpells, ...twitch(loose, false), ...padsOff(told, pads), ...padsAndCaptureRemarks(told, pads)];
}

/** Tell whether a spell was ever stopped. @param {StandingRow} spell @param {StandingRow[]} stops @returns {boolean} */
function isOver(spell, stops) {
  return momentMs(spell.value.stop) !== null || stops.some((stop) => stop.value.of === spell.id);
}

/** @param {StandingRow} row @returns {string[]} */
function signs(row) {
  return Array.isArray(row.value.judged_how) ? row.value.judged_how : [];
}

/** Tell whether mechanical capture was read by more than a pulse or an ECG. @param {StandingRow} row @returns {boolean} */
function isSeen(row) {
  return row.value.mechanical === "yes" && SECOND_SIGNS.some((sign) => signs(row).includes(sign));
}

/**
 * Return pulses felt without a second sign; a later reading by one settles them.
 * @param {StandingRow[]} readings in time
 * @param {boolean} over
 * @returns {Found[]}
 */
function twitch(readings, over) {
  return readings.flatMap((row, n) => {
    const isFelt = row.value.mechanical === "yes" && signs(row).includes("pulse");
    if (!isFelt || isSeen(row)) return [];
    const isSettled = over || readings.slice(n + 1).some(isSeen);
    return [found(remark("pulse_may_twitch", "look_again", {}, [], "second_sign"), READING, "", [row.id], !isSettled)];
  });
}

/**
 * Return readings of one spell that say yes, then no, at the same output or more. Where
 * neither says its output they are held to be alike. No reading overwrites another.
 * @param {StandingRow[]} readings in time
 * @param {boolean} over
 * @returns {Found[]}
 */
function disagreeing(readings, over) {
  const pairs = ["electrical", "mechanical"].flatMap((kind) =>
    readings.flatMap((before, n) =>
      readings
        .slice(n + 1)
        .filter((after) => before.value[kind] === "yes" && after.value[kind] === "no" && isNoLower(before, after))
        .map((after) => [before, after]),
    ),
  );
  if (!pairs.length) return [];
  const rows = readings.filter((row) => pairs.flat().includes(row));
  const last = rows[rows.length - 1];
  const isSettled = over || readings.slice(readings.indexOf(last) + 1).some(isSeen);
  const one = remark("skin_readings_disagree", "look_again", {}, [], "second_sign");
  return [found(one, READING, "", inOrder(rows), !isSettled)];
}

/** @param {StandingRow} before @param {StandingRow} after @returns {boolean} */
function isNoLower(before, after) {
  const told = after.value.output;
  if (isObject(told) && told.special === "maximum") return true;
  const first = number(point(before.value.output, "mA", HARD).n);
  const second = number(point(told, "mA", HARD).n);
  if (!first || !second) return !first && !second;
  return !isLess(second, first);
}

/**
 * Return pads said not connected while a spell was open: one of both is not so.
 * @param {Told} told
 * @param {Pads} pads
 * @returns {Found[]}
 */
function padsOff(told, pads) {
  const end = Math.max(told.now_ms ?? 0, lastMs(told.fold));
  return pads.states.flatMap((row) => {
    const spells = openSpells(pads, row.time_ms);
    if (!OFF.includes(row.value.state) || !spells.length) return [];
    const stands = row === pads.states.at(-1) && openSpells(pads, end).length > 0;
    return [found(remark("pads_off_while_pacing", "look_again"), PADS, "", inOrder([...spells, row]), stands)];
  });
}
