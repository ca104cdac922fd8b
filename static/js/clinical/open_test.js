/** @import { Fold } from "../types.js" */
/** @import { OpenTest } from "./types-settings.js" */
/** @import { Dial, Limits, StandingRow } from "./types.js" */
import { shownOn } from "./dial.js";
import { number } from "./exact.js";
import { PARTS, dialInUse, outputOf } from "./left_at.js";
import { modeOf } from "./mode.js";
import { isObject, point, rowsOf } from "./rows.js";
import { secondsOf } from "./shown.js";

const TESTS = ["threshold_test", "sensing_test"];
const READINGS = ["output_reading", "sensing_reading"];
const TO_READ = ["rate", "output", "sensitivity"];

/**
 * Return the test whose settings nobody has read back, or null. Only rate, output and
 * sensitivity read back since its last row end it. Worked out from the record alone, so that
 * it outlives a closed part, a lock, a restart.
 * @param {Fold} fold
 * @param {string} wire
 * @param {Limits} limits
 * @param {number | null} nowMs
 * @returns {OpenTest | null}
 */
export function openTest(fold, wire, limits, nowMs) {
  const { dial } = dialInUse(fold, wire);
  /** @type {StandingRow[]} */
  let open = [];
  /** @type {Set<string>} */
  let read = new Set();
  for (const row of rowsIn(fold, wire)) {
    if (!row.path.endsWith(".dial_left_at")) {
      open.push(row);
      read = new Set();
    } else if (open.length > 0) {
      for (const name of readOf(row, dial)) read.add(name);
      if (TO_READ.every((name) => read.has(name))) open = [];
    }
  }
  if (open.length === 0) return null;
  const since = open[0].time_ms;
  const bound = number(limits.test_banner_alarm_s);
  return {
    since_ms: since,
    setting: setting(open, dial),
    seconds: nowMs === null ? null : secondsOf(nowMs - since),
    is_late: nowMs !== null && bound !== null && BigInt(nowMs - since) * bound.d > bound.n * 1000n,
    ids: open.toSorted((a, b) => a.place - b.place).map((row) => row.id),
  };
}

/**
 * Return which of rate, output and sensitivity a row read back, as they can be.
 * @param {StandingRow} row
 * @param {Dial} dial
 * @returns {string[]}
 */
export function readOf(row, dial) {
  const { value } = row;
  const isAsync = value.asynchronous === "yes" || (modeOf(value.mode)?.is_asynchronous ?? false);
  /** @type {{[name: string]: boolean}} */
  const told = {
    rate: point(value.rate, "/min").n !== null,
    output: outputOf(row, dial).n !== null || isMaximum(row),
    sensitivity: isAsync || point(value.sensitivity, "mV").n !== null,
  };
  return TO_READ.filter((name) => told[name]);
}

/** @param {StandingRow} row */
function isMaximum({ value }) {
  return [value.output, value.output_v].some((one) => isObject(one) && one.special === "maximum");
}

/**
 * Return tests, their readings and settings in time; of a struck test nothing.
 * @param {Fold} fold
 * @param {string} wire
 * @returns {StandingRow[]}
 */
function rowsIn(fold, wire) {
  const at = (/** @type {string[]} */ names) => PARTS.flatMap((part) => names.map((name) => `wires/${wire}/${part}.${name}`));
  const told = at(TESTS).flatMap((path) => fold.rows[path] ?? []);
  const struck = new Set(told.filter((row) => row.struck !== null).map((row) => row.id));
  return rowsOf(fold, ...at([...TESTS, ...READINGS, "dial_left_at"])).filter((row) => !struck.has(row.value.of));
}

/** @param {StandingRow[]} rows @param {Dial} dial */
function setting(rows, dial) {
  const read = rows.filter(({ path }) => path.endsWith(".output_reading") || path.endsWith(".sensing_test"));
  const last = read.map((row) => outputOf(row, dial)).findLast(({ n }) => n !== null);
  return last?.n ? `${shownOn(dial, last.n)} ${last.unit}` : "";
}
