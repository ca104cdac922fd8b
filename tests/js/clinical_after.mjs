// Plain calls of settings, due times, drift and handing over. The same names as in
// tests/support/clinical_calls_after.py.
import { asynchronous } from "../../static/js/clinical/asynchronous.js";
import { depthCompared, depthRead } from "../../static/js/clinical/depth_moved.js";
import { drift } from "../../static/js/clinical/drift.js";
import { dwell } from "../../static/js/clinical/dwell.js";
import { nextDue } from "../../static/js/clinical/due.js";
import { firstSettings, firstSettingsOf, leftBesideAsked } from "../../static/js/clinical/first_settings.js";
import { meanPressure } from "../../static/js/clinical/mean_pressure.js";
import { modeOf, modeWords } from "../../static/js/clinical/mode.js";
import { openTest } from "../../static/js/clinical/open_test.js";
import { isOver } from "../../static/js/clinical/over.js";
import { toldOf } from "../../static/js/clinical/told.js";
import { sensingSummary } from "../../static/js/clinical/wire_sensing.js";

/** User texts that are their own keys. */
const OWN_KEYS = new Proxy({}, { get: (_, key) => key });

/** Return the calls by name; `limitsOf` gives the limits an input is judged by. */
export function callsAfter(limitsOf) {
  return {
    mode: (g) => {
      const mode = modeOf(g.value);
      const told = (one) => ({ code: one.code, is_asynchronous: one.is_asynchronous, wants_atrial_wire: one.wants_atrial_wire });
      return mode && { ...told(mode), words: modeWords(mode, OWN_KEYS) };
    },
    open_test: (g) => openTest(g.fold, g.wire, limitsOf(g), g.now_ms ?? null),
    asynchronous: (g) => asynchronous(g.fold, g.wire),
    first_settings: (g) => firstSettings(g.urgency, g.own, g.own_rate, limitsOf(g)),
    first_settings_of: (g) => firstSettingsOf(g.fold, limitsOf(g)),
    left_beside_asked: (g) => leftBesideAsked({ output: g.asked, unit: g.unit }, g.left_at, g.left_unit ?? "mA"),
    next_due: (g) => nextDue(g.fold, g.wire, g.limits_file).map(({ kind, due_ms, since_ms, after }) => ({ kind, due_ms, since_ms, after })),
    drift: (g) => drift(g.values.map(([ms, value]) => ({ ms, value })), g.output, g.is_below_floor, g.due_ms, limitsOf(g)),
    depth_compared: (g) => {
      const [before, after] = [g.before, g.after].map((value) => depthRead(value, []));
      return before && after ? depthCompared(before, after, limitsOf(g)) : null;
    },
    sensing_summary: (g) => sensingSummary(toldOf(g.fold, g.limits_file, g.now_ms ?? null), g.wire),
    is_over: (g) => isOver(g.fold, g.wire),
    dwell: (g) => dwell(g.fold, g.wire),
    mean_pressure: (g) => meanPressure(g.systolic, g.diastolic),
  };
}
