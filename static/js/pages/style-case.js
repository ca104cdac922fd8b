/** @import { Json, Op, Opened, Who } from "../types.js" */
import { exactMoment } from "../log/clock.js";

const MINUTE_MS = 60_000;
/** @type {Who} */
const NURSE = { person: null, name: "K. Ouse-Example", role: "nurse" };
const LONG_NAME = "Test-Wilhelmina-Alexandra-Konstantina ALDERMERE-HOLLINWATER-MERROWDALE-SEDGEFORD";
const LONG_REASON = "no band on the arm, and the crew who brought the patient had left before anybody could ask them about it";

/** @typedef {{path: string, value: Json, op?: Op, min?: number, id?: string, alone?: boolean}} Told min: minutes ago; alone: by somebody who had seen nothing of this path */

/** @param {string} as @param {string} unit */
const qty = (as, unit) => ({ as, n: as, unit });

/**
 * Return made-up answers, one for each state a field can be in.
 * @param {(min: number) => Json} at a moment some minutes ago
 * @returns {Told[]}
 */
export function saidFields(at) {
  return [
    { path: "patient.identity_known", value: "yes" },
    { path: "patient.start", value: "typed" },
    { path: "indication.main_rhythm", value: "complete_av_block" },
    { path: "patient.allergies", value: ["latex", "chlorhexidine"] },
    { path: "patient.weight", value: qty("64", "kg") },
    { path: "patient.temperature", value: qty("39.6", "Cel") },
    { path: "patient.height", value: qty("340", "cm") },
    { path: "indication.qtc", value: qty("480", "ms") },
    { path: "indication.qtc", value: qty("520", "ms"), alone: true },
    { path: "patient.pregnancy_weeks", value: { as: ">30", n: "30", cmp: ">", unit: "wk" } },
    { path: "patient.estimated_age", value: { absent: "not_known" } },
    { path: "patient.encounter_number", value: { absent: "not_done", because: LONG_REASON } },
    { path: "indication.pr", value: { absent: "not_known", not_stated_by: "the crew's report" } },
    { path: "patient.gestation", value: { absent: "not_asked" } },
    { path: "patient.wristband_read", value: at(12) },
    { path: "consent.sought_at", value: { .../** @type {object} */ (at(30)), certainty: "about", clock: "wall" } },
    { path: "consent.signature_at", value: { day: "2026-05-14", certainty: "day" } },
    { path: "patient.family_name", value: LONG_NAME },
    { path: "patient.given_name", value: "Test-Ines" },
    { path: "patient.given_name", value: "Test-Inga", alone: true },
    { path: "patient.record_number", value: "00417220" },
    { path: "patient.case_code", value: "7316" },
    { path: "patient.birth_date", value: { as: "3.2.54", date: "1954-02-03" } },
    { path: "indication.stated_by", value: { ...NURSE, credential: "RN" } },
    { path: "indication.pads", op: "add", value: { state: "none", moment: at(40) }, id: "pads-1" },
    { path: "indication.pads", op: "strike", value: { strikes: "pads-1", reason: "another patient" } },
    { path: "indication.pads", op: "add", value: { state: "connected_ready", capture_ma: qty("80", "mA"), moment: at(5) }, id: "pads-2" },
    { path: "patient.laboratory", value: { absent: "not_done", because: "no blood drawn yet" } },
    { path: "indication.own_rhythm", op: "add", value: { result: "rhythm", rate: qty("38", "/min"), tolerated: "yes", moment: at(7) } },
  ];
}

/**
 * Return made-up readings of one wire.
 * @param {(min: number) => Json} at
 * @param {"rings" | "elsewhere" | "adrift" | "test" | "read"} which
 * @returns {Told[]}
 */
export function saidWire(at, which) {
  const wire = (/** @type {string} */ path) => `wires/wire-1/${path}`;
  const depth = (/** @type {Json} */ value, /** @type {number} */ min) => ({ path: wire("advance.depth_reading"), op: /** @type {Op} */ ("add"), value: { .../** @type {object} */ (value), moment: at(min) }, min });
  const output = (/** @type {string} */ mA, /** @type {string} */ result, /** @type {number} */ min) => ({ path: wire("capture.output_reading"), op: /** @type {Op} */ ("add"), value: { of: "test-1", output: qty(mA, "mA"), result, moment: at(min) }, min });
  /** @type {Told[]} */
  const readings = [
    { path: "wires", op: "add", value: { name: "Wire 1", when: at(20) }, id: "wire-1", min: 20 },
    { path: wire("approach.wire_kind"), value: "balloon_tipped", min: 20 },
    depth({ depth: qty("18", "cm"), result: "high_ra" }, 12),
    depth({ depth: qty("34", "cm"), result: "rv_contact", ...(which === "elsewhere" ? { read_at: "skin" } : {}) }, 9),
    ...(which === "adrift" ? [depth({ depth: { as: "30-34", low: "30", high: "34", unit: "cm" }, result: "unclear" }, 1)] : []),
  ];
  if (which !== "test" && which !== "read") return readings;
  return [
    ...readings,
    { path: wire("capture.threshold_test"), op: "add", value: { kind: "full", moment: at(6) }, id: "test-1", min: 6 },
    output("10", "captures", 5), output("5.0", "captures", 5), output("2.0", "captures", 4),
    output("1.2", "captures", 4), output("1.0", "no_capture", 3), output("1.2", "captures", 3),
    ...(which === "read" ? [{ path: wire("capture.dial_left_at"), op: /** @type {Op} */ ("add"), value: { mode: "vvi", rate: qty("80", "/min"), output: qty("3.0", "mA"), sensitivity: qty("2.0", "mV"), moment: at(2) }, min: 2 }] : []),
  ];
}

/**
 * Turn what was told into entries as a log holds them.
 * @param {Told[]} told
 * @param {number} now_ms
 * @param {string} zone
 * @returns {Opened[]}
 */
export function asEntries(told, now_ms, zone) {
  return told.map(({ path, value, op = "set", min = 15, id, alone }, at) => {
    const { utc, offset_min } = exactMoment(now_ms - min * MINUTE_MS, zone);
    const body = { path, op, value, seen: [], at: { utc, zone, offset_min, skew_ms: 0 }, author: NURSE, entered_by: NURSE, called_by: null, source: /** @type {const} */ ("seen"), how: /** @type {const} */ ("typed"), salt: "" };
    return { id: id ?? `entry-${at}`, log: alone ? "another" : "this", seq: at + 1, body };
  });
}
