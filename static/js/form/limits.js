/** Judge a quantity: hard and soft range, unit, step. */

import { compare, exact, isMultiple } from "./decimals.js";
import { figures, isQuantity, readQuantity } from "./quantities.js";
import { converted, shownUnit } from "./units.js";
import { OK, found, illegal, worst } from "./verdicts.js";

/** @typedef {import("../types-form.js").FieldSpec} FieldSpec */
/** @typedef {import("../types-form.js").Fraction} Fraction */
/** @typedef {import("../types.js").JsonObject} JsonObject */
/** @typedef {import("../types-form.js").RangeSpec} RangeSpec */
/** @typedef {import("../types-form.js").Verdict} Verdict */

/**
 * Judge a JSON value of kind qty. Ranges are in the field's first unit; a value in
 * another unit is compared after exact conversion and never changed.
 * @param {FieldSpec} field
 * @param {unknown} value
 * @param {boolean} [adult] false silences soft ranges meant for adults only
 * @returns {Verdict}
 */
export function checkQuantity(field, value, adult = true) {
  if (!isQuantity(value)) return illegal(field);
  const unit = String(value.unit);
  if (unit && !field.units.includes(unit)) {
    return found("impossible", field, "unit_unknown", { unit, typed: value.as });
  }
  if (isUnread(value)) return found("impossible", field, "unreadable", { typed: value.as });
  if (!isReadAsTyped(field, value)) return found("impossible", field, "contradicts_typed", { typed: value.as });
  const judged = field.soft_ages === "adult" && !adult ? { ...field, soft: null } : field;
  return within(judged, value, unit || (field.units[0] ?? ""), unit !== "");
}

/** @param {JsonObject} value */
function isUnread(value) {
  return Object.keys(value).length === 2;
}

/**
 * Tell whether the typed text, where readable, gives the figures kept.
 * @param {FieldSpec} field
 * @param {JsonObject} value
 * @returns {boolean}
 */
function isReadAsTyped(field, value) {
  const read = readQuantity(field, String(value.as), String(value.unit));
  return isUnread(read) || ["n", "low", "high", "cmp", "special"].every((key) => read[key] === value[key]);
}

/**
 * @param {FieldSpec} field
 * @param {JsonObject} value
 * @param {string} unit
 * @param {boolean} said
 * @returns {Verdict}
 */
function within(field, value, unit, said) {
  if (figures(value).length === 0) return OK;
  const here = fit(field, value, unit);
  const others = field.units.filter((other) => other !== unit).map((other) => fit(field, value, other));
  const mayBeOther = others.includes("inside") || others.includes("unknown");
  const asked = found("soft", field, "unit_asked", { typed: value.as });
  if (here === "below" || here === "above") {
    const beyond = outside("impossible", field, `${here}_hard`, field.hard, value);
    return mayBeOther ? worst([beyond, asked]) : beyond;
  }
  const inDoubt = here === "unknown" || (!said && mayBeOther);
  return worst([inDoubt ? asked : OK, soft(field, value, unit), step(field, value, unit)]);
}

/**
 * Return the figures in the field's first unit, smallest first; null: no fixed conversion.
 * @param {FieldSpec} field
 * @param {JsonObject} value
 * @param {string} unit
 * @returns {{low: Fraction, high: Fraction} | null}
 */
function inFirstUnit(field, value, unit) {
  const numbers = figures(value).map((n) => converted(n, unit, field.units[0] ?? ""));
  const [low = null, high = low] = numbers;
  return low && high ? { low, high } : null;
}

/**
 * Return where the figures lie when read in `unit`, against the hard range.
 * @param {FieldSpec} field
 * @param {JsonObject} value
 * @param {string} unit
 * @returns {"inside" | "below" | "above" | "unknown"}
 */
function fit(field, value, unit) {
  if (!field.hard) return "inside";
  const ends = inFirstUnit(field, value, unit);
  if (!ends) return "unknown";
  if (compare(ends.low, exact(field.hard.low)) < 0) return "below";
  return compare(ends.high, exact(field.hard.high)) > 0 ? "above" : "inside";
}

/**
 * Remark on a value outside the soft range; "> 4" is outside only for certain.
 * @param {FieldSpec} field
 * @param {JsonObject} value
 * @param {string} unit
 * @returns {Verdict}
 */
function soft(field, value, unit) {
  const ends = field.soft ? inFirstUnit(field, value, unit) : null;
  if (!field.soft || !ends) return OK;
  const cmp = String(value.cmp ?? "");
  const isBelow = compare(ends.low, exact(field.soft.low)) <= (cmp === "<" ? 0 : -1);
  if (isBelow && !cmp.startsWith(">")) return outside("soft", field, "below_soft", field.soft, value);
  const isAbove = compare(ends.high, exact(field.soft.high)) >= (cmp === ">" ? 0 : 1);
  if (isAbove && !cmp.startsWith("<")) return outside("soft", field, "above_soft", field.soft, value);
  return OK;
}

/**
 * @param {import("../types-form.js").ValueState} state
 * @param {FieldSpec} field
 * @param {string} code
 * @param {RangeSpec | null} limits
 * @param {JsonObject} value
 * @returns {Verdict}
 */
function outside(state, field, code, limits, value) {
  const limit = code.startsWith("below") ? limits?.low : limits?.high;
  return found(state, field, code, { limit, unit: shownUnit(field.units[0] ?? ""), typed: value.as });
}

/**
 * Note a value finer than the field's step; it stays as good as any other.
 * @param {FieldSpec} field
 * @param {JsonObject} value
 * @param {string} unit
 * @returns {Verdict}
 */
function step(field, value, unit) {
  if (!field.step || unit !== (field.units[0] ?? "")) return OK;
  if (figures(value).every((n) => isMultiple(n, field.step))) return OK;
  return found("ok", field, "off_step", { step: field.step, unit: shownUnit(unit), typed: value.as });
}
