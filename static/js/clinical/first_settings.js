/** @import { Fold } from "../types.js" */
/** @import { FirstSettings } from "./types-settings.js" */
/** @import { Limits, PolicyAsks } from "./types.js" */
import { inArrest } from "./arrests.js";
import { certainEnds } from "./certain.js";
import { compare, decimal, most, number, plus, ratio } from "./exact.js";
import { ownRhythm, ownRows } from "./rhythm.js";
import { oneAnswer } from "./rows.js";

/** 60 to 80 /min where it is no emergency: domain 4d, found. */
const UNHURRIED = { rate_low: "60", rate_high: "80" };
const ABOVE_OWN = ratio(10n, 1n);

/**
 * Return what policy asks first, null where nothing can be asked. Adults only: a child has
 * no row.
 * @param {string} urgency emergency, urgent, planned
 * @param {string} own result of the own rhythm, or "arrest"
 * @param {string | null} ownRate /min, its higher end
 * @param {Limits} limits
 * @returns {FirstSettings | null}
 */
export function firstSettings(urgency, own, ownRate, limits) {
  const least = number(limits.first_rate_emergency_per_min);
  const [output, mv] = [limits.first_output_urgent_ma, limits.first_sensitivity_mv];
  if (!least || output === undefined || mv === undefined) return null;
  if (urgency === "urgent" || urgency === "planned") {
    return { is_emergency: false, ...UNHURRIED, output, mode: "VVI", sensitivity: mv };
  }
  if (urgency !== "emergency") return null;
  const rate = number(ownRate);
  const asked = decimal(rate ? most([least, plus(rate, ABOVE_OWN)]) : least);
  const isAsync = own === "none" || own === "arrest";
  const told = { is_emergency: true, rate_low: asked, rate_high: asked, output: null };
  return { ...told, mode: isAsync ? "VOO" : "VVI", sensitivity: isAsync ? null : mv };
}

/**
 * Return what policy asks first, as the record stands.
 * @param {Fold} fold
 * @param {Limits} limits
 * @returns {FirstSettings | null}
 */
export function firstSettingsOf(fold, limits) {
  const row = ownRows(fold).at(-1) ?? null;
  const own = ownRhythm(row);
  const rate = row && own.result === "rhythm" ? certainEnds(row.value.rate, "/min")[1] : null;
  const told = inArrest(fold) ? "arrest" : String(own.result);
  return firstSettings(String(oneAnswer(fold, "indication.urgency")), told, rate ? decimal(rate) : null, limits);
}

/**
 * Return how the dial left at stands to what policy asked: "below", "at", "above"; "" where one
 * of them is not known or their units differ: nothing is converted.
 * @param {PolicyAsks} asks
 * @param {string | null} leftAt
 * @param {string} unit
 * @returns {string}
 */
export function leftBesideAsked(asks, leftAt, unit) {
  const [asked, left] = [number(asks.output), number(leftAt)];
  if (!asked || !left || asks.unit !== unit) return "";
  return ["below", "at", "above"][compare(left, asked) + 1];
}
