/** @import { Json, JsonObject } from "../types.js" */
/** @import { FieldSpec } from "../types-form.js" */
import { local } from "./instants.js";
import { parse } from "./kinds.js";
import { dayWords } from "./words.js";

/** @typedef {import("./controls.js").Setting} Setting */

/** A numeric keypad may have no colon. */
const PACKED = /^(\d{1,2})(\d\d)$/;

/**
 * Return the moment that day, time and certainty say together; null: nothing. Without
 * a time it is a day; without a day the time is today's.
 * @param {HTMLElement} controls
 * @param {FieldSpec} field
 * @param {Setting} setting
 * @returns {Json}
 */
export function readMomentControls(controls, field, setting) {
  const kept = box(controls, "[name$='.utc']");
  const [day, time] = [box(controls, ".moment-day").value.trim(), box(controls, ".moment-time").value.trim()];
  if (!day && !time) return null;
  if (kept.value && kept.dataset.for === shape(controls)) return JSON.parse(kept.value);
  const about = time && controls.querySelector("input[value='about']:checked") ? "about " : "";
  const value = parse(field, `${about}${day} ${time.replace(PACKED, "$1:$2")}`.trim(), null, setting);
  const clock = box(controls, ".moment-clock").value;
  return isClock(value) && clock ? { ...value, clock } : value;
}

/**
 * Show a moment; it is kept whole beside the text, so that a look changes no second.
 * @param {HTMLElement} controls
 * @param {JsonObject | null} value
 */
export function showMoment(controls, value) {
  const clock = isClock(value) ? local(value) : null;
  const day = clock ? clock.day : value?.day;
  box(controls, ".moment-day").value = typeof day === "string" ? dayWords(day) : String(value?.as ?? "");
  box(controls, ".moment-time").value = clock ? clock.time : "";
  for (const radio of controls.querySelectorAll("input[type='radio']")) {
    const input = /** @type {HTMLInputElement} */ (radio);
    input.checked = input.value === value?.certainty;
  }
  box(controls, ".moment-clock").value = clock ? String(value?.clock) : "wall";
  const kept = box(controls, "[name$='.utc']");
  kept.value = value ? JSON.stringify(value) : "";
  kept.dataset.for = shape(controls);
}

/**
 * What a person sees of the moment: while it stands, the kept value stands.
 * @param {HTMLElement} controls
 */
function shape(controls) {
  const certainty = /** @type {HTMLInputElement | null} */ (controls.querySelector("input[type='radio']:checked"));
  return JSON.stringify([
    box(controls, ".moment-day").value.trim(),
    box(controls, ".moment-time").value.trim(),
    certainty?.value ?? "",
    box(controls, ".moment-clock").value,
  ]);
}

/** @param {HTMLElement} controls @param {string} selector */
function box(controls, selector) {
  const root = controls.closest(".field") ?? controls;
  return /** @type {HTMLInputElement} */ (root.querySelector(selector));
}

/** @param {Json | undefined} value @returns {value is JsonObject} */
function isClock(value) {
  return typeof value === "object" && value !== null && "utc" in value;
}
