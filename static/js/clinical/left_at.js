/** @import { Fold } from "../types.js" */
/** @import { Dial, LeftAt, Point, StandingRow } from "./types.js" */
import { dialOf, highest } from "./dial.js";
import { segments } from "./dial_text.js";
import { decimal } from "./exact.js";
import { usualWidth, widthOf } from "./pulse_widths.js";
import { isObject, point, rowsOf } from "./rows.js";

export const PARTS = ["capture", "checks"];
const UNITS = [
  ["output", "mA"],
  ["output_v", "V"],
];

/**
 * Return the dial of the wire's latest generator, and whether it puts out volts.
 * @param {Fold} fold
 * @param {string} wire
 * @returns {{dial: Dial, isVoltage: boolean}}
 */
export function dialInUse(fold, wire) {
  const latest = rowsOf(fold, `wires/${wire}/capture.generator`).at(-1);
  if (!latest) return { dial: dialOf(null), isVoltage: false };
  return { dial: dialOf(segments(latest.value.output_dial)), isVoltage: latest.value.output_kind === "voltage" };
}

/**
 * Return every output read back for a wire, in time; other answers are passed by. A row
 * that holds an output holds the latest word on it, even where it is absent or impossible; one
 * that tells the pulse width alone tells it of the output before it. In volts the width goes on
 * to the next output that tells none, until another generator is told.
 * @param {Fold} fold
 * @param {string} wire
 * @param {Dial} dial
 * @returns {LeftAt[]}
 */
export function settings(fold, wire, dial) {
  const generator = `wires/${wire}/capture.generator`;
  const first = rowsOf(fold, generator).at(0);
  const rows = rowsOf(fold, ...PARTS.map((part) => `wires/${wire}/${part}.dial_left_at`), generator);
  const usual = usualWidth(fold, wire);
  let carried = usual;
  /** @type {LeftAt[]} */
  const found = [];
  for (const row of rows) {
    const tellsWidth = "pulse_width" in row.value;
    if (row.path === generator) {
      if (row.id !== first?.id || tellsWidth) carried = usual;
      continue;
    }
    if (UNITS.some(([name]) => name in row.value)) found.push(leftAt(row, dial, carried));
    const last = found.at(-1);
    if (last && tellsWidth) last.width_ms = widthOf(row.value, carried, last.unit);
    if (last?.unit === "V" && tellsWidth) carried = row.value.pulse_width;
  }
  return found;
}

/**
 * Return a row's output and unit; "maximum" is the dial's highest if known.
 * @param {StandingRow} row
 * @param {Dial} dial
 * @returns {Point & {unit: string}}
 */
export function outputOf(row, dial) {
  const given = UNITS.find(([name]) => (row.value[name] ?? null) !== null);
  if (!given) return { n: null, why: "absent", unit: "mA" };
  const [name, unit] = given;
  const value = row.value[name];
  const isTop = isObject(value) && value.special === "maximum" && dial.known;
  return isTop ? { n: decimal(highest(dial)), why: "", unit } : { ...point(value, unit), unit };
}

/**
 * @param {StandingRow} row
 * @param {Dial} dial
 * @param {any} usual any: the generator's pulse width as kept
 * @returns {LeftAt}
 */
function leftAt(row, dial, usual) {
  const { n, unit, why } = outputOf(row, dial);
  const isFinal = row.value.when_kind === "final" || row.path.includes("/checks.");
  return { id: row.id, output: n, unit, is_final: isFinal, time_ms: row.time_ms, why, width_ms: widthOf(row.value, usual, unit) };
}
