/** @import { Fold } from "../types.js" */
/** @import { Around, Dial, LeftAt, Point, Reading, StandingRow, ToldTest } from "./types.js" */
import { PARTS, outputOf } from "./left_at.js";
import { usualWidth, widthOf } from "./pulse_widths.js";
import { isPacingAt, ownRateAt, ownRows, padsOf } from "./rhythm.js";
import { point, rowsOf } from "./rows.js";

const RESULTS = ["captures", "no_capture", "cannot_tell"];

/**
 * Return the tests of a wire in time, each with its readings. Readings of a struck test are
 * left with it; those that name no known test make one of their own.
 * @param {Fold} fold
 * @param {string} wire
 * @param {Dial} dial
 * @param {LeftAt[]} left
 * @returns {ToldTest[]}
 */
export function toldTests(fold, wire, dial, left) {
  const around = { dial, left, usual_width: usualWidth(fold, wire), own: ownRows(fold), pads: padsOf(fold) };
  const found = PARTS.flatMap((part) => testsOf(fold, `wires/${wire}/${part}`, part, around));
  return found.sort((a, b) => a.time_ms - b.time_ms);
}

/**
 * @param {Fold} fold
 * @param {string} under
 * @param {string} part
 * @param {Around} around
 * @returns {ToldTest[]}
 */
function testsOf(fold, under, part, around) {
  const told = rowsOf(fold, `${under}.threshold_test`);
  const readings = rowsOf(fold, `${under}.output_reading`);
  const struck = (fold.rows[`${under}.threshold_test`] ?? []).filter((row) => row.struck !== null);
  const known = new Set([...told, ...struck].map((row) => row.id));
  const loose = readings.filter((row) => !known.has(of(row)));
  const named = (/** @type {string} */ id) => (/** @type {StandingRow} */ row) => of(row) === id;
  return [
    ...told.map((row) => test(part, row, readings.filter(named(row.id)), around)),
    ...[...new Set(loose.map(of))].map((id) => test(part, null, loose.filter(named(id)), around)),
  ];
}

/**
 * @param {StandingRow} row
 * @returns {string}
 */
function of(row) {
  return typeof row.value.of === "string" ? row.value.of : "";
}

/**
 * @param {string} part
 * @param {StandingRow | null} row
 * @param {StandingRow[]} own
 * @param {Around} around
 * @returns {ToldTest}
 */
function test(part, row, own, around) {
  const told = row?.value ?? {};
  const read = own.toSorted((a, b) => a.place - b.place).map((one) => ({ row: one, ...outputOf(one, around.dial) }));
  const unit = read.findLast(({ n }) => n !== null)?.unit ?? "mA";
  const judged = read.map((one) => ({ ...one, why: whyOut(one, unit) }));
  const kept = judged.filter(({ why }) => why === "");
  const rows = [...(row ? [row] : []), ...own];
  const last = rows.toSorted((a, b) => a.time_ms - b.time_ms || a.place - b.place).at(-1);
  const start = row?.time_ms ?? read[0]?.row.time_ms ?? 0;
  return {
    id: row?.id ?? "",
    part,
    unit,
    kind: typeof told.kind === "string" ? told.kind : "",
    width_ms: widthOf(told, around.usual_width, unit),
    set_output: setOutput(told, unit, start, around.left),
    pads_ready: told.pads_ready === "yes",
    doctor_present: told.doctor_present === "yes",
    is_ordered: new Set(kept.map((one) => one.row.log)).size <= 1,
    time_ms: last?.time_ms ?? start,
    place: last?.place ?? 0,
    ids: kept.map((one) => one.row.id),
    readings: kept.map((one) => reading(told, one.row, /** @type {string} */ (one.n), around)),
    left_out: judged.filter(({ why }) => why !== "").map((one) => ({ id: one.row.id, why: one.why })),
  };
}

/**
 * @param {Point & {unit: string, row: StandingRow}} read
 * @param {string} unit
 * @returns {string}
 */
function whyOut({ n, why, unit: own, row }, unit) {
  if (!RESULTS.includes(row.value.result)) return "no_result";
  if (n === null) return why;
  return own === unit ? "" : "other_unit";
}

/**
 * @param {{[child: string]: any}} told any: the test's row as kept
 * @param {StandingRow} row
 * @param {string} n
 * @param {Around} around
 * @returns {Reading}
 */
function reading(told, row, n, around) {
  return {
    output: n,
    result: row.value.result,
    rate: point("rate" in row.value ? row.value.rate : told.rate, "/min").n,
    own_rate: ownRateAt(around.own, row.time_ms),
    pads_pacing: isPacingAt(around.pads, row.time_ms),
  };
}

/**
 * Return the output set when the test began: said with it, or read back before.
 * @param {{[child: string]: any}} told any: the test's row as kept
 * @param {string} unit
 * @param {number} startMs
 * @param {LeftAt[]} left
 * @returns {string | null}
 */
function setOutput(told, unit, startMs, left) {
  if (unit === "mA" && "set_output" in told) return point(told.set_output, "mA").n;
  const before = left.filter((one) => one.time_ms <= startMs).at(-1);
  return before && before.unit === unit ? before.output : null;
}
