/** @import { Found, Told } from "./types-found.js" */
/** @import { Remark, StandingRow } from "./types.js" */
import { settingsRows } from "./asynchronous.js";
import { certainEnds } from "./certain.js";
import { compare, decimal, isLess, number } from "./exact.js";
import { atRow, found, idsInOrder } from "./found.js";
import { heads, isOver } from "./over.js";
import { remark } from "./remarks.js";
import { ownRhythm, ownRows } from "./rhythm.js";
import { rowsOf } from "./rows.js";
import { torsadesRemarks } from "./torsades.js";

const VENTRICULAR = ["rv", "cs_lv"];

/**
 * Return each wire's remarks on the rates read back, planned and used.
 * @param {Told} told
 * @returns {Found[]}
 */
export function rateRemarks(told) {
  return [...told.wires.flatMap((wire) => [...besideOwn(told, wire), ...rapid(told, wire)]), ...torsadesRemarks(told)];
}

/** @param {StandingRow} row */
const rateOf = (row) => certainEnds(row.value.rate, "/min");

/**
 * Say that a rate read back is not above the own rhythm: held against the own rhythm known then,
 * the last settings against the last known. A wire left in standby is to be won over: silent.
 * @param {Told} told
 * @param {string} wire
 * @returns {Found[]}
 */
function besideOwn(told, wire) {
  const outcomes = heads(told.fold, "finish.outcome");
  if (outcomes.length === 1 && outcomes[0] === "standby_wire_in") return [];
  const rows = settingsRows(told.fold, wire).filter((row) => rateOf(row)[1] !== null);
  const own = ownRows(told.fold);
  return rows.flatMap((row, n) => {
    const isLast = n === rows.length - 1;
    const known = (isLast ? own : own.filter((one) => one.time_ms <= row.time_ms)).at(-1);
    if (!known || ownRhythm(known).result !== "rhythm") return [];
    const [rate, least] = [rateOf(row)[1], rateOf(known)[0]];
    if (!rate || !least || isLess(least, rate)) return [];
    const one = remark("rate_below_own", "look_again", { rate: decimal(rate), own: decimal(least) });
    return [found(one, row.path, wire, idsInOrder([row, known]), isLast && !isOver(told.fold, wire))];
  });
}

/**
 * Ask of rapid pacing: the defibrillator, a second time, which chamber.
 * @param {Told} told
 * @param {string} wire
 * @returns {Found[]}
 */
function rapid(told, wire) {
  const under = `wires/${wire}/capture`;
  const groups = [rowsOf(told.fold, `${under}.overdrive`), rowsOf(told.fold, `${under}.target_rate`), settingsRows(told.fold, wire)];
  const isDone = isOver(told.fold, wire);
  return groups.flatMap((rows) =>
    rows.flatMap((row) =>
      asked(told, wire, row).map(({ one, isMet }) => {
        const stands = row === rows.at(-1) && !isDone && !(isMet && isCharged(row));
        return atRow(one, row, wire, stands);
      }),
    ),
  );
}

/** Return the rate to hold against what is rapid: of a range its high end. @param {StandingRow} row */
function highest(row) {
  const [low, high] = rateOf(row);
  return low && high ? high : low;
}

/** Tell whether the row itself answers that the defibrillator is charged. @param {StandingRow} row */
function isCharged(row) {
  return row.value.defibrillator_charged === "yes";
}

/**
 * Return what a rate is asked, and whether "charged" answers it.
 * @param {Told} told
 * @param {string} wire
 * @param {StandingRow} row
 * @returns {{one: Remark, isMet: boolean}[]}
 */
function asked(told, wire, row) {
  const ofWire = heads(told.fold, `wires/${wire}/approach.chamber`);
  const chambers = [...ofWire, row.value.chamber];
  const rate = highest(row);
  const bound = number(told.limits.rapid_ventricular_per_min);
  const again = number(told.limits.rapid_ask_again_per_min);
  const isRapid = rate !== null && bound !== null && compare(rate, bound) > 0;
  // The wire is called atrial: rapid, or overdrive whose chamber nobody answered.
  const isCalled = ofWire.includes("ra") && (isRapid || isUnanswered(row));
  const isAtrial = row.value.chamber === "ra" || isCalled;
  const all = isAtrial ? [{ one: remark("atrial_rapid", "look_again"), isMet: false }] : [];
  if (!rate || !isRapid) return all;
  const [values, key] = [{ rate: decimal(rate) }, ["rapid_ventricular_per_min"]];
  if (chambers.some((one) => VENTRICULAR.includes(one))) {
    all.push({ one: remark("rapid_ventricular", "look_now", values, key, "defibrillator"), isMet: true });
    if (again && isLess(again, rate)) all.push({ one: remark("rapid_again", "look_now", values, ["rapid_ask_again_per_min"]), isMet: false });
  } else if (!chambers.includes("ra")) {
    all.push({ one: remark("rapid_chamber_unsaid", "look_again", values, key), isMet: false });
  }
  return all;
}

/** Tell whether this is overdrive that does not say which chamber. @param {StandingRow} row */
function isUnanswered(row) {
  return row.path.endsWith(".overdrive") && typeof row.value.chamber !== "string";
}
