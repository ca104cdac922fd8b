/** @import { Bedside } from "../types-form.js" */
/** @import { CaptureModel } from "./live-capture-state.js" */
import { firstSettingsOf } from "../clinical/first_settings.js";
import { point } from "../clinical/rows.js";
import { toldOf } from "../clinical/told.js";
import { sensingSummary } from "../clinical/wire_sensing.js";
import { onDial } from "./live-capture-state.js";
import { policyOf } from "./tablet-remarks.js";

/**
 * Return what stands elsewhere as it would be keyed: what policy asks, what was called or
 * left last. Only keys: none of them is in the number until it is tapped.
 * @param {Bedside} bed
 * @param {CaptureModel} model
 * @param {string} over
 * @returns {[string, string][]} whose number, and the number
 */
export function suggestions(bed, model, over) {
  const told = toldOf(bed.now.fold, policyOf(bed), null);
  const first = firstSettingsOf(bed.now.fold, told.limits);
  const sensing = bed.wire && over === "sensitivity" ? sensingSummary(told, bed.wire) : null;
  const shown = model.summary?.shown ?? {};
  const isOutput = over === "called" || over.startsWith("output");
  const last = model.last?.row.value;
  /** @type {{[from: string]: string | null | undefined}} */
  const all = isOutput
    ? { asks: over === "called" ? null : shown.asks, last: point(last?.output_v ?? last?.output, model.unit).n, left: shown.left_at, first: first?.output }
    : over === "rate"
      ? { first: first?.rate_low, first_high: first?.rate_high }
      : over === "sensitivity" ? { asks: sensing?.asks.sensitivity, left: sensing?.left_at, first: first?.sensitivity } : {};
  /** @type {Map<string, string>} */
  const found = new Map();
  for (const [from, value] of Object.entries(all)) {
    const text = typeof value === "string" && isOutput ? onDial(model, value) : value;
    if (typeof text === "string" && ![...found.values()].includes(text)) found.set(from, text);
  }
  return [...found];
}
