/** @import { Bedside } from "../types-form.js" */
/** @import { CaptureModel } from "./live-capture-state.js" */
import { firstSettingsOf } from "../clinical/first_settings.js";
import { point } from "../clinical/rows.js";
import { toldOf } from "../clinical/told.js";
import { sensingSummary } from "../clinical/wire_sensing.js";
import { wirePath } from "../form/fields.js";
import { timedRows } from "../form/standing.js";
import { onDial } from "./live-capture-state.js";
import { policyOf } from "./tablet-remarks.js";

/**
 * Return what stands elsewhere as it would be keyed: what was called or left last, and for
 * the dial to be called what policy asks first. What policy asks is never offered as what
 * was read: a hurried tap would make it so. None is in the number until it is tapped.
 * @param {Bedside} bed
 * @param {CaptureModel} model
 * @param {string} over
 * @returns {[string, string][]} whose number, and the number
 */
export function suggestions(bed, model, over) {
  const found = new Map(Object.entries(standing(bed, model, over)).flatMap(([from, value]) => (typeof value === "string" ? [[value, from]] : [])));
  return [...found].map(([value, from]) => [from, value]);
}

/** @param {Bedside} bed @param {CaptureModel} model @param {string} over @returns {{[from: string]: string | null | undefined}} */
function standing(bed, model, over) {
  const told = toldOf(bed.now.fold, policyOf(bed), null);
  if (over === "pace") return { left: rateLeft(bed) };
  if (over === "sensitivity") return { left: bed.wire ? sensingSummary(told, bed.wire).left_at : null };
  if (over !== "called" && !over.startsWith("output")) return {};
  const last = model.last?.row.value;
  const unit = over === "called" ? model.unit : over === "output_v" ? "V" : "mA";
  const left = model.summary?.left_at?.unit === unit ? model.summary.shown.left_at : null;
  // Policy asks in mA; nothing is converted.
  const first = over === "called" && unit === "mA" ? firstSettingsOf(bed.now.fold, told.limits)?.output : null;
  // What did not capture is never offered as what the generator was left at.
  const called = over === "called" || last?.result !== "no_capture" ? last : null;
  const numbers = { first, left, last: point(unit === "V" ? called?.output_v : called?.output, unit).n };
  return Object.fromEntries(Object.entries(numbers).map(([from, value]) => [from, typeof value === "string" ? onDial(model, value) : null]));
}

/** The rate that was read off the generator last. @param {Bedside} bed */
function rateLeft(bed) {
  const rows = bed.wire ? timedRows(bed.now, ["capture", "checks"].map((part) => wirePath(String(bed.wire), `${part}.dial_left_at`))) : [];
  return point(rows.at(-1)?.row.value.rate, "/min").n;
}
