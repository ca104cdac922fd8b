import { captures, chamberAt } from "./patient.js";

/** @typedef {import("./patient.js").Done} Done */
/** @typedef {import("./scripts.js").Script} Script */
/** @typedef {{code: string, values: {[name: string]: string | number}, isAsHidden: boolean}} Line */
/** @typedef {{[code: string]: boolean}} Seen what the record holds besides readings, by the code a script asks */

/** A contact told where the script has none is told apart from any other wrong name. */
const PLACES = ["depth", "output"];

/**
 * Compare what was entered with what the script hides, reading by reading, then say what
 * was not done and how long it took.
 * @param {Script} script
 * @param {Done[]} done in the order it happened
 * @param {Seen} seen
 * @param {{started_ms: number, threshold_ma: number | null}} told threshold as computed from the readings
 * @returns {{readings: Line[], missed: string[], done: string[], times: {contact_s: number | null, capture_s: number | null, end_s: number | null}, threshold: Line}}
 */
export function debriefOf(script, done, seen, { started_ms, threshold_ma }) {
  const readings = done.flatMap((one, at) => (PLACES.includes(one.what) ? [compared(script, done, at)] : []));
  const isLost = script.loses !== null && done.some(({ what }) => what === script.loses?.after);
  const hidden_ma = isLost && script.loses ? script.loses.threshold_ma : script.threshold_ma;
  const since = (/** @type {Done | undefined} */ one) => (one ? Math.max(0, Math.round((one.ms - started_ms) / 1000)) : null);
  return {
    readings,
    missed: script.asked.filter((code) => !seen[code]),
    done: script.asked.filter((code) => seen[code]),
    times: {
      contact_s: since(done.find(({ result }) => result === "rv_contact")),
      capture_s: since(done.find(({ what, result }) => what === "output" && result === "captures")),
      end_s: since(done.at(-1)),
    },
    threshold: { code: threshold_ma === null ? "no_threshold" : "threshold", values: { told: threshold_ma ?? "", hidden: hidden_ma }, isAsHidden: threshold_ma === hidden_ma },
  };
}

/** @param {Script} script @param {Done[]} done @param {number} at @returns {Line} */
function compared(script, done, at) {
  const one = /** @type {Done} */ (done[at]);
  const before = done.slice(0, at);
  const hidden = one.what === "depth" ? hiddenPattern(script, [...before, one]) : captures(script, before, one.n ?? 0) ? "captures" : "no_capture";
  const told = one.result ?? "";
  return { code: one.what, values: { n: one.n ?? "", told, hidden, ms: one.ms }, isAsHidden: told === hidden };
}

/** @param {Script} script @param {Done[]} done */
function hiddenPattern(script, done) {
  return chamberAt(script, done.flatMap(({ what, n }) => (what === "depth" && n !== undefined ? [n] : []))) ?? "";
}
