/**
 * Scripted patients: all figures are made up for rehearsing, none is a limit or a finding.
 *
 * @typedef {{from_cm: number, pattern: string}} Chamber from this depth on, until the next
 * @typedef {object} Script One scripted patient.
 * @property {string} name
 * @property {Chamber[]} first what the wire meets on its way in
 * @property {{turns: string, back_cm: number, way: Chamber[]} | null} again a chamber that is the
 *   wrong way; pulled back to this depth, the wire meets the other chambers
 * @property {number} threshold_ma
 * @property {{after: "left_at", threshold_ma: number} | null} loses capture is lost once the dial
 *   was read back, and comes at a higher output from then on
 * @property {string | null} runs_at the chamber in which the heart answers with runs, once
 * @property {number | null} own_rate_per_min null: none
 * @property {string[]} asked codes of what a debrief looks for besides the readings
 */

/** @type {Chamber[]} */
const NECK = [
  { from_cm: 0, pattern: "svc" },
  { from_cm: 15, pattern: "high_ra" },
  { from_cm: 18, pattern: "mid_ra" },
  { from_cm: 21, pattern: "low_ra" },
  { from_cm: 25, pattern: "rv_free" },
  { from_cm: 33, pattern: "rv_contact" },
];
const ASKED = ["p_waves", "balloon_down", "wiring", "own_rhythm", "pads", "read_back"];

/** @type {Script[]} from the plain one to the hard one */
export const SCRIPTS = [
  { name: "steady", first: NECK, again: null, threshold_ma: 0.8, loses: null, runs_at: null, own_rate_per_min: 38, asked: ASKED },
  {
    name: "wrong_way",
    first: [...NECK.slice(0, 4), { from_cm: 24, pattern: "ivc" }],
    again: { turns: "ivc", back_cm: 20, way: NECK },
    threshold_ma: 1.4,
    loses: null,
    runs_at: "rv_free",
    own_rate_per_min: 34,
    asked: [...ASKED, "runs"],
  },
  {
    name: "lost",
    first: [...NECK.slice(0, 5), { from_cm: 35, pattern: "rv_contact" }],
    again: null,
    threshold_ma: 1,
    loses: { after: "left_at", threshold_ma: 4 },
    runs_at: "rv_free",
    own_rate_per_min: null,
    asked: [...ASKED, "runs", "capture_lost", "tested_again"],
  },
];
