/** @import { CaseRead } from "../types-form.js" */
import { point } from "../clinical/rows.js";
import { timedRows } from "../form/standing.js";

/** @typedef {import("./patient.js").Done} Done */

/** @type {{[group: string]: Done["what"]}} */
const WHATS = {
  "advance.depth_reading": "depth",
  "capture.output_reading": "output",
  "capture.dial_left_at": "left_at",
  "capture.capture_lost": "capture_lost",
  "advance.vt_vf": "runs",
  "advance.ectopy": "runs",
};

/**
 * Return what a rehearsed case holds so far, in the order it happened.
 * @param {CaseRead} now
 * @returns {Done[]}
 */
export function doneIn(now) {
  const paths = Object.keys(WHATS).flatMap((group) => now.pathsOf(group));
  return timedRows(now, paths).flatMap(({ row, path, ms }) => {
    const what = WHATS[path.split("/").at(-1) ?? ""];
    if (!what || row.value.amount === "none" || row.value.amount === "some") return [];
    const n = what === "depth" ? point(row.value.depth, "cm").n : point(row.value.output, "mA").n;
    const result = typeof row.value.result === "string" ? row.value.result : undefined;
    return [{ what, ms, ...(n === null ? {} : { n: Number(n) }), ...(result ? { result } : {}) }];
  });
}

/**
 * Return what else a debrief asks for, by its code.
 * @param {CaseRead} now
 * @returns {import("./debrief.js").Seen}
 */
export function seenIn(now) {
  const all = (/** @type {string} */ group) => timedRows(now, now.pathsOf(group));
  const answered = (/** @type {string} */ field) => now.pathsOf(field).some((path) => now.answer(path).state === "answered");
  const balloon = [...all("advance.depth_reading"), ...all("advance.balloon")].sort((a, b) => a.ms - b.ms);
  const states = balloon.map(({ row }) => row.value.balloon ?? row.value.state).filter(Boolean);
  const lost = all("capture.capture_lost")[0];
  return {
    p_waves: answered("advance.p_waves"),
    balloon_down: states.at(-1) === "down",
    wiring: answered("capture.ventricular_port"),
    own_rhythm: all("capture.own_rhythm").length + timedRows(now, ["indication.own_rhythm"]).length > 0,
    pads: timedRows(now, ["indication.pads"]).length > 0,
    read_back: all("capture.dial_left_at").length > 0,
    runs: doneIn(now).some(({ what }) => what === "runs"),
    capture_lost: Boolean(lost),
    tested_again: Boolean(lost && all("capture.output_reading").some(({ ms }) => ms > lost.ms)),
  };
}
