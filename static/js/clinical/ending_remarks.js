/** @import { Found, Told } from "./types-found.js" */
import { firstCaptured, said } from "./capture_said.js";
import { entriesOf } from "./evidence.js";
import { found } from "./found.js";
import { PARTS } from "./left_at.js";
import { heads } from "./over.js";
import { remark } from "./remarks.js";
import { ownRhythm, ownRows } from "./rhythm.js";
import { momentMs, oneAnswer, rowsOf } from "./rows.js";

/** @type {{[event: string]: string[]}} what may follow from each event; other endings contradict it */
const FOLLOWS = {
  removal_here: ["removed_rhythm_back", "removed_permanent_system", "replaced", "pulled_out"],
  found_out: ["pulled_out", "replaced"],
  elsewhere: ["removed_elsewhere", "removed_permanent_system", "replaced", "removed_rhythm_back"],
  leaves_with_patient: ["left_with_patient", "home_externalised"],
  died: ["died_wire_in", "care_withdrawn"],
  care_withdrawn: ["care_withdrawn", "died_wire_in"],
};
const STILL_IN = ["left_with_patient", "home_externalised", "died_wire_in"];
const AFTER = ["threshold_test", "output_reading", "sensing_test", "dial_left_at"];

/**
 * Return each contradiction of one wire's ending.
 * @param {Told} told
 * @param {string} wire
 * @returns {Found[]}
 */
export function endingRemarks(told, wire) {
  const endings = heads(told.fold, `wires/${wire}/removal.ending`);
  return [...endings.flatMap((ending) => endingFound(told, wire, String(ending))), ...afterOut(told, wire)];
}

/** @param {Told} told @param {string} wire @param {string} code @param {string[]} names @param {string[]} [ids] */
function one(told, wire, code, names, ids = []) {
  const under = `wires/${wire}/removal`;
  const all = new Set([...entriesOf(told.fold, names.map((name) => `${under}.${name}`)), ...ids]);
  return found(remark(code, "look_again"), `${under}.${names[0]}`, wire, told.fold.order.filter((id) => all.has(id)));
}

/** @param {Told} told @param {string} wire @param {string} ending @returns {Found[]} */
function endingFound(told, wire, ending) {
  const under = `wires/${wire}/removal`;
  /** @type {Found[]} */
  const all = [];
  const follows = (/** @type {any} */ event) => (Object.hasOwn(FOLLOWS, String(event)) ? FOLLOWS[String(event)] : [ending]);
  if (heads(told.fold, `${under}.event`).some((event) => !follows(event).includes(ending))) {
    all.push(one(told, wire, "ending_not_event", ["ending", "event"]));
  }
  if (STILL_IN.includes(ending) && heads(told.fold, `${under}.removed_at`).length > 0) {
    all.push(one(told, wire, "ending_still_in", ["ending", "removed_at"]));
  }
  const last = ownRows(told.fold).at(-1);
  if (ending === "removed_rhythm_back" && last && ownRhythm(last).result === "none") {
    all.push(one(told, wire, "ending_no_rhythm", ["ending"], [last.id]));
  }
  return ending === "replaced" ? [...all, ...replaced(told, wire)] : all;
}

/** Ask by which wire, and whether the next captured before this one was out. @param {Told} told @param {string} wire @returns {Found[]} */
function replaced(told, wire) {
  const newer = told.wires.slice(told.wires.indexOf(wire) + 1);
  if (newer.length === 0) {
    const isNamed = said(told.fold, `wires/${wire}/removal.replaced_by`).length > 0;
    return isNamed ? [] : [one(told, wire, "replaced_unsaid", ["ending", "replaced_by"])];
  }
  const outMs = momentMs(oneAnswer(told.fold, `wires/${wire}/removal.removed_at`));
  const first = newer.flatMap((other) => firstCaptured(told.fold, other)?.time_ms ?? []);
  if (outMs === null || first.some((ms) => ms <= outMs)) return [];
  return [one(told, wire, "replaced_early", ["removed_at", "ending"])];
}

/** Rows of a wire made after it was out. @param {Told} told @param {string} wire @returns {Found[]} */
function afterOut(told, wire) {
  const outMs = momentMs(oneAnswer(told.fold, `wires/${wire}/removal.removed_at`));
  if (outMs === null) return [];
  const under = PARTS.flatMap((part) => AFTER.map((name) => `wires/${wire}/${part}.${name}`));
  const late = rowsOf(told.fold, ...under, `wires/${wire}/checks.check`).filter((row) => row.time_ms > outMs);
  return late.length > 0 ? [one(told, wire, "after_out", ["removed_at"], late.map((row) => row.id))] : [];
}
