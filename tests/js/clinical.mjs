// What is computed, called with plain JSON; run by vectors.mjs. The same names as in
// tests/support/clinical_calls.py.
import { ageClass } from "../../static/js/clinical/ages.js";
import { AREAS, caseRemarks } from "../../static/js/clinical/case_remarks.js";
import { countsAs } from "../../static/js/clinical/counted.js";
import { dependence, mayOfferSensingTest, offeredTests } from "../../static/js/clinical/dependence.js";
import {
  above, atOrAbove, atOrBelow, below, dialOf, dialProblem, highest, lowest, shownOn, stepAt,
} from "../../static/js/clinical/dial.js";
import { segments } from "../../static/js/clinical/dial_text.js";
import { decimal, number, quotient, ratio, ratioOf } from "../../static/js/clinical/exact.js";
import { margin } from "../../static/js/clinical/margin.js";
import { nextOutput } from "../../static/js/clinical/next_output.js";
import { policyAsks } from "../../static/js/clinical/output.js";
import { limits } from "../../static/js/clinical/policy.js";
import { thresholdSummary } from "../../static/js/clinical/readings.js";
import { answerTo } from "../../static/js/clinical/remark_answers.js";
import { asks, finding, more, sourceLine, weightWord } from "../../static/js/clinical/remarks.js";
import { sensingRemarks, sensingThreshold, sensitivityAsks } from "../../static/js/clinical/sensing.js";
import { age, elapsed, shown, times, truncated } from "../../static/js/clinical/shown.js";
import { thresholdTest } from "../../static/js/clinical/threshold.js";
import { callsAfter } from "./clinical_after.mjs";
import { callsWay } from "./clinical_way.mjs";
import { CALLS_AROUND } from "./clinical_around.mjs";
import { toldOf } from "../../static/js/clinical/told.js";

const LETTERS = { c: "captures", n: "no_capture", "?": "cannot_tell" };
const zero = ratio(0n, 1n);
const limitsOf = (given) => limits(given.limits_file, given.is_adult ?? true);
const dial = (given) => dialOf(given.dial ?? null);
const readings = (given) =>
  given.readings.map((r) => (Array.isArray(r) ? { output: r[0], result: LETTERS[r[1]] } : r));

const CALLS = {
  threshold_test: (g) => thresholdTest(readings(g), dial(g), limitsOf(g), g),
  counts_as: (g) => countsAs(g.reading, limitsOf(g)),
  next_output: (g) => nextOutput(readings(g), g.set, dial(g), limitsOf(g), g.is_dependent),
  offered_in_turn: (g) => {
    const told = readings(g);
    const offers = [];
    for (let n = 0; n < 100; n += 1) {
      const offer = nextOutput(told, g.set, dial(g), limitsOf(g), g.is_dependent);
      if (offer.output === null) return [...offers, offer.ends];
      offers.push(offer.output);
      told.push({ output: offer.output, result: "captures" });
    }
    return offers;
  },
  policy_asks: (g) => policyAsks(g.threshold, dial(g), limitsOf(g), g.is_dependent ?? false, g),
  margin: (g) =>
    margin(g.setting, g.threshold ?? null, g.at_most ?? null, dial(g), limitsOf(g), g.is_dependent ?? false),
  dependence: (g) => {
    const blank = { result: null, rate_per_min: null, is_tolerated: null, is_called_reliable: null };
    return dependence({ ...blank, ...g.own }, limitsOf(g));
  },
  offered_tests: (g) => offeredTests(g.is_dependent, g.pads_ready, g.doctor_present),
  may_offer_sensing_test: (g) => mayOfferSensingTest(g.is_dependent),
  age_class: (g) => {
    const [years, weight_kg, height_cm] = [number(g.years), number(g.weight_kg), number(g.height_cm)];
    return ageClass({ years, weight_kg, height_cm, by_look: g.by_look ?? "" }, limits(g.limits_file, true));
  },
  remark_words: (g) => ({
    weight: weightWord(g.remark, g.words),
    finding: finding(g.remark, g.words),
    more: more(g.remark, g.words),
    asks: asks(g.remark, g.words),
    source: sourceLine(g.remark, g.limits_file.rows, g.words),
  }),
  threshold_summary: (g) => thresholdSummary(g.fold, g.wire, g.limits_file, g),
  dial: (g) => {
    const [on, value] = [dial(g), number(g.value) ?? zero];
    const text = (x) => (x ? decimal(x) : null);
    return {
      at_or_above: text(atOrAbove(on, value)),
      at_or_below: text(atOrBelow(on, value)),
      above: text(above(on, value)),
      below: text(below(on, value)),
      step: stepAt(on, value),
      shown: shownOn(on, g.value),
      known: on.known,
      problem: dialProblem(g.dial ?? null),
      lowest: text(lowest(on)),
      highest: text(highest(on)),
    };
  },
  segments: (g) => segments(g.text),
  shown: (g) => shown(g.value, g.step),
  truncated: (g) => truncated(ratioOf(g.value) ?? zero, g.step),
  times: (g) => {
    const over = number(g.over);
    return times(quotient(number(g.value) ?? zero, over && over.n !== 0n ? over : ratio(1n, 1n)));
  },
  elapsed: (g) => elapsed(g.seconds),
  age: (g) => age(g.seconds),
  limits: limitsOf,
  sensing_threshold: (g) => sensingThreshold(g.mv),
  sensitivity_asks: (g) => sensitivityAsks(g.measured, dial(g), limitsOf(g)),
  sensing_remarks: (g) => sensingRemarks(g.measured, g.left_at, dial(g), limitsOf(g), g.is_dependent),
  remark_answers: (g) =>
    caseRemarks(g.fold, g.limits_file).map((one) => [one.remark.code, answerTo(g.fold, one)?.value.answer ?? null]),
  case_remarks: (g) => caseRemarks(g.fold, g.limits_file, g.now_ms ?? null),
};
Object.assign(CALLS, callsAfter(limitsOf), CALLS_AROUND, callsWay(limitsOf));
for (const [name, area] of Object.entries(AREAS)) {
  CALLS[`in_${name}`] = (g) => area(toldOf(g.fold, g.limits_file, g.now_ms ?? null));
}

let policies = [];

/** Call one function; `policies` first says which exported limits the numbers mean. */
export function run(name, given, policy) {
  if (name === "policies") {
    policies = given;
    return null;
  }
  return CALLS[name]({ ...given, limits_file: policies[policy] });
}
