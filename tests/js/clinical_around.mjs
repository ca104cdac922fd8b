// Plain calls of drugs and their sums. The same names as in
// tests/support/clinical_calls_around.py.
import { anaestheticSum } from "../../static/js/clinical/anaesthetic.js";
import { drugTotals } from "../../static/js/clinical/drug_totals.js";
import { decimal } from "../../static/js/clinical/exact.js";
import { concentration } from "../../static/js/clinical/infusions.js";
import { toldOf } from "../../static/js/clinical/told.js";

/** The calls by name. */
export const CALLS_AROUND = {
  anaesthetic_sum: (g) => anaestheticSum(toldOf(g.fold, g.limits_file, null)),
  drug_totals: (g) => drugTotals(g.fold),
  concentration: (g) => {
    const found = concentration(g.text);
    return found && decimal(found);
  },
};
