/** @import { Json, Meta } from "../types.js" */
/** @import { AnswerRead, CaseRead, RowRead } from "../types-form.js" */
import { placesOf } from "../clinical/rows.js";
import { wirePath } from "./fields.js";
import { say } from "./say.js";
import { words } from "./words.js";

/** @typedef {{row: RowRead, meta: Meta, ms: number, path: string}} TimedRow */
/** @typedef {{words: string, ms: number | null}} Stood what a standing line says, and since when */

/**
 * Return the rows of several groups, struck ones left out, in the order they happened.
 * @param {CaseRead} now
 * @param {string[]} paths of the record
 * @returns {TimedRow[]}
 */
export function timedRows(now, paths) {
  const found = paths.flatMap((path) =>
    now.rows(path).flatMap((row) => {
      const meta = now.fold.entries[row.id];
      return meta ? [{ row, meta, ms: momentMs(row.value.moment) ?? meta.time_ms, path }] : [];
    }),
  );
  const places = placesOf(now.fold);
  return found.sort((a, b) => a.ms - b.ms || (places.get(a.row.id) ?? 0) - (places.get(b.row.id) ?? 0));
}

/**
 * Return Unix milliseconds of a moment with a clock time, else null.
 * @param {Json | undefined} value
 * @returns {number | null}
 */
export function momentMs(value) {
  const utc = typeof value === "object" && value !== null && !Array.isArray(value) ? value.utc : null;
  const ms = typeof utc === "string" ? Date.parse(utc) : NaN;
  return Number.isNaN(ms) ? null : ms;
}

/**
 * Return the own rhythm as last read anywhere in the record.
 * @param {CaseRead} now
 * @returns {Stood}
 */
export function ownRhythm(now) {
  const paths = ["indication.own_rhythm", ...now.pathsOf("capture.own_rhythm"), ...now.pathsOf("checks.own_rhythm")];
  const last = timedRows(now, paths).at(-1);
  if (!last) return unsaid(now.answer("indication.own_rhythm"));
  const told = childWords(now, last);
  const rate = told("rate");
  if (last.row.value.result !== "rhythm") return { words: inLine(told("result")) || rate || say("words.not_known"), ms: last.ms };
  const tolerated = { yes: say("stand.tolerated"), no: say("stand.not_tolerated") }[String(last.row.value.tolerated)];
  return { words: [rate || inLine(told("rhythm")), tolerated].filter(Boolean).join(", "), ms: last.ms };
}

/**
 * Return the state of the pads as last said.
 * @param {CaseRead} now
 * @returns {Stood}
 */
export function padsState(now) {
  const last = timedRows(now, ["indication.pads"]).at(-1);
  if (!last) return unsaid(now.answer("indication.pads"));
  return { words: inLine(childWords(now, last)("state")) || say("words.not_known"), ms: last.ms };
}

/**
 * Return what the generator was last left at, as read back.
 * @param {CaseRead} now
 * @param {string | null} wire
 * @param {string} [output] as its dial shows it
 * @returns {Stood}
 */
export function generatorState(now, wire, output = "") {
  const paths = wire ? [wirePath(wire, "capture.dial_left_at"), wirePath(wire, "checks.dial_left_at")] : [];
  const rows = timedRows(now, paths);
  const last = rows.at(-1);
  if (last) {
    const told = childWords(now, last);
    const telling = rows.findLast(({ row }) => "output" in row.value || "output_v" in row.value);
    const outputTold = telling ? childWords(now, telling) : null;
    const shown = outputTold ? output || outputTold("output") || outputTold("output_v") : "";
    const said = [shown, told("rate"), told("mode")].filter(Boolean);
    // What stands in one line is as old as its oldest part.
    return { words: said.join(", ") || say("words.not_known"), ms: shown && telling ? telling.ms : last.ms };
  }
  const on = wire ? now.answer(wirePath(wire, "capture.generator_on")) : null;
  if (on?.state === "answered") return { words: say(on.value === "yes" ? "stand.generator_on" : "stand.generator_off"), ms: null };
  return { words: say("stand.generator_unsaid"), ms: null };
}

/** @param {CaseRead} now @param {TimedRow} row @returns {(name: string) => string} */
export function childWords(now, { row, path }) {
  const group = now.index.at(path)?.field;
  return (name) => {
    const child = group?.children.find((field) => field.name === name);
    const value = row.value[name];
    return child && value !== undefined ? words(child, value) : "";
  };
}

/**
 * A label within a line: small at its beginning, but for abbreviations.
 * @param {string} label
 */
function inLine(label) {
  return /^\p{Lu}\p{Ll}/u.test(label) ? label.charAt(0).toLowerCase() + label.slice(1) : label;
}

/** @param {AnswerRead} answer @returns {Stood} */
function unsaid(answer) {
  return { words: answer.words, ms: null };
}
