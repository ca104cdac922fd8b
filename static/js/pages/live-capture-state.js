/** @import { Bedside } from "../types-form.js" */
/** @import { Dial, Tested, ThresholdSummary } from "../clinical/types.js" */
import { dependence } from "../clinical/dependence.js";
import { above, below, dialOf, shownOn } from "../clinical/dial.js";
import { decimal, number } from "../clinical/exact.js";
import { dialInUse } from "../clinical/left_at.js";
import { nextOutput } from "../clinical/next_output.js";
import { ownRhythm, ownRows } from "../clinical/rhythm.js";
import { toldOf } from "../clinical/told.js";
import { wirePath } from "../form/fields.js";
import { timedRows } from "../form/standing.js";
import { kindOf, openOf } from "./live-capture-test.js";
import { heldPerWire } from "./live-held.js";
import { captureNumbers, openTestOf } from "./tablet-numbers.js";
import { policyOf } from "./tablet-remarks.js";

/** @typedef {"" | "full" | "margin_shown"} TestKind */
/** @typedef {{[name: string]: string}} ReadBack what was read off the generator and is no entry yet, as typed */

/**
 * @typedef {object} LiveState What the hand at this tablet is about, no entry yet.
 * @property {string | null} called the dial as moved; null: as it is offered
 * @property {boolean} isConfirmed somebody read that value on the generator
 * @property {string} dialled unit and generator it was called on; "": none yet
 * @property {boolean} isAsked a result was tapped before the dial was read
 * @property {TestKind} kind of the test to begin; "": what the patient's own rhythm asks for
 * @property {boolean} isNew the next reading begins another test
 * @property {string} rate /min, the pacing rate called for the readings that follow; "": not said
 * @property {string | null} waiting the id of a reading that is kept and not drawn yet; "": being kept
 * @property {string} over what lies over the panel; "": nothing
 * @property {string} typed the figures keyed there
 * @property {ReadBack} read
 * @property {number} rowsThen how many settings had been read back when that was last looked at
 */

/** @type {(bed: Bedside) => LiveState} */
export const stateOf = heldPerWire(() => ({
  called: null, isConfirmed: false, dialled: "", isAsked: false, kind: "", isNew: false, rate: "", waiting: null, over: "", typed: "", read: {}, rowsThen: 0,
}));

/**
 * @typedef {object} CaptureModel What the record and the hand say together.
 * @property {Dial} dial
 * @property {boolean} isVoltage
 * @property {"mA" | "V"} unit
 * @property {ThresholdSummary | null} summary
 * @property {number | null} ms when the test that counts was made
 * @property {boolean} isDependent
 * @property {Tested | null} test the open one
 * @property {number} number of the test the next reading belongs to
 * @property {"full" | "margin_shown"} kind of that test
 * @property {string} ends why no value is offered, as a code
 * @property {string | null} called
 * @property {string | null} up
 * @property {string | null} down
 * @property {import("../form/standing.js").TimedRow | null} last the last output reading
 * @property {boolean} isTestOpen settings of a test are not read back
 */

/**
 * Work out what the next reading is offered at, and to which test it belongs.
 * @param {Bedside} bed
 * @returns {CaptureModel}
 */
export function modelOf(bed) {
  const state = stateOf(bed);
  const { fold } = bed.now;
  const { dial, isVoltage } = bed.wire ? dialInUse(fold, bed.wire) : { dial: dialOf(null), isVoltage: false };
  const unit = isVoltage ? "V" : "mA";
  const generator = bed.wire ? timedRows(bed.now, [wirePath(bed.wire, "capture.generator")]).at(-1) : null;
  const dialled = `${unit} ${generator?.row.id ?? ""}`;
  // What was called or read on another generator is no word on this one.
  if (state.dialled && state.dialled !== dialled) Object.assign(state, { called: null, isConfirmed: false, rate: "" });
  state.dialled = dialled;
  const { limits } = toldOf(fold, policyOf(bed), null);
  const { summary, ms } = captureNumbers(bed);
  const isDependent = dependence(ownRhythm(ownRows(fold).at(-1) ?? null), limits).is_dependent;
  const tests = (summary?.tests ?? []).filter(({ told }) => told.part === "capture" && told.id);
  const test = state.isNew ? null : openOf(bed, tests.at(-1), unit);
  const kind = kindOf(test, state, isDependent);
  const left = summary?.left_at;
  const set = test?.told.unit === unit ? test.told.set_output : left && left.unit === unit ? left.output : null;
  const readings = test?.told.readings ?? [];
  const next = nextOutput(readings, set, dial, limits, isDependent || kind === "margin_shown");
  const called = state.called ?? next.output ?? readings.at(-1)?.output ?? set;
  const exact = number(called);
  const place = (/** @type {import("../clinical/types.js").Exact | null} */ found) => (found ? decimal(found) : null);
  return {
    dial, isVoltage, unit, summary, ms, isDependent, test, kind, called,
    number: tests.length + (test ? 0 : 1),
    ends: next.output === null ? next.ends : "",
    up: exact ? place(above(dial, exact)) : null,
    down: exact ? place(below(dial, exact)) : null,
    last: lastReading(bed),
    isTestOpen: openTestOf(bed) !== null,
  };
}

/**
 * Return the pacing rate that the next reading is made at, as it was said: called here, else
 * said with the open test or its last reading; "": nobody said.
 * @param {Bedside} bed
 * @param {Pick<CaptureModel, "test">} model
 */
export function rateSaid(bed, { test }) {
  return stateOf(bed).rate || (test?.told.readings.at(-1)?.rate ?? "");
}

/** @param {Bedside} bed */
function lastReading(bed) {
  return bed.wire ? (timedRows(bed.now, [wirePath(bed.wire, "capture.output_reading")]).at(-1) ?? null) : null;
}

/**
 * Return a value as this generator's dial shows it.
 * @param {CaptureModel} model
 * @param {string} value
 */
export function onDial({ dial }, value) {
  return shownOn(dial, value);
}

/**
 * Tell whether a reading is being written, or written and not drawn yet: until then the
 * value offered is the one before.
 * @param {Bedside} bed
 * @returns {boolean}
 */
export function isWaiting(bed) {
  const state = stateOf(bed);
  if (state.waiting && bed.now.fold.entries[state.waiting]) state.waiting = null;
  return state.waiting !== null;
}
