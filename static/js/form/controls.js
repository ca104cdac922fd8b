/** @import { Json, JsonObject } from "../types.js" */
/** @import { FieldSpec } from "../types-form.js" */
import { readDrawing, showDrawing } from "./sketch.js";
import { parse } from "./kinds.js";
import { readMomentControls, showMoment } from "./moment-controls.js";
import { codeOf } from "./choices.js";

/** @typedef {{today: string, zone: string}} Setting the local day and whose wall clock typed times mean */

/**
 * Return what a field's controls say now, as a value of its kind; null: nothing.
 * @param {HTMLElement} controls the field's `.field-controls`
 * @param {FieldSpec} field
 * @param {Setting} setting
 * @returns {Json}
 */
export function readControls(controls, field, setting) {
  switch (field.kind) {
    case "yn":
    case "one": return picked(controls)[0] ?? null;
    case "many": return orNull(picked(controls));
    case "qty": return parse(field, textOf(controls, ".qty"), textOf(controls, "[name$='.unit']") || null, setting);
    case "moment": return readMomentControls(controls, field, setting);
    case "person": return readPerson(controls);
    case "photo": return readPhoto(controls);
    case "drawing": return readDrawing(controls);
    default: return parse(field, textOf(controls, ".input"), null, setting);
  }
}

/**
 * Show a value in a field's controls; an absence, or null, empties them.
 * @param {HTMLElement} controls
 * @param {FieldSpec} field
 * @param {Json} value
 */
export function showControls(controls, field, value) {
  const told = isAbsence(value) ? null : value;
  switch (field.kind) {
    case "yn":
    case "one": return showPicks(controls, told === null ? [] : [told]);
    case "many": return showPicks(controls, Array.isArray(told) ? told : []);
    case "qty": return showQuantity(controls, /** @type {JsonObject | null} */ (told));
    case "moment": return showMoment(controls, /** @type {JsonObject | null} */ (told));
    case "person": return showPerson(controls, /** @type {JsonObject | null} */ (told));
    case "photo": return setText(controls, "input[type='hidden']", told === null ? "" : JSON.stringify(told));
    case "drawing": return showDrawing(controls, told);
    case "date": return setText(controls, ".input", String(/** @type {JsonObject | null} */ (told)?.as ?? ""));
    default: return setText(controls, ".input", typeof told === "string" ? told : "");
  }
}

/**
 * Tell whether a value says that there is no answer.
 * @param {Json} value
 * @returns {value is JsonObject}
 */
export function isAbsence(value) {
  return typeof value === "object" && value !== null && !Array.isArray(value) && "absent" in value;
}

/**
 * Return the trimmed text of one control, "" when there is none.
 * @param {ParentNode} within
 * @param {string} selector
 */
export function textOf(within, selector) {
  const found = /** @type {HTMLInputElement | null} */ (within.querySelector(selector));
  return found ? found.value.trim() : "";
}

/**
 * Set the text of one control, if it is there and says something else.
 * @param {ParentNode} within
 * @param {string} selector
 * @param {string} text
 */
export function setText(within, selector, text) {
  const found = /** @type {HTMLInputElement | null} */ (within.querySelector(selector));
  if (found && found.value !== text) found.value = text;
}

/** @param {HTMLElement} controls @returns {Json[]} */
function picked(controls) {
  return [...controls.querySelectorAll("input:checked")].map((box) => {
    const code = /** @type {HTMLInputElement} */ (box).value;
    const text = textOf(box.parentElement?.parentElement ?? controls, ".choice:has(> input:checked) + .choice-other");
    const takesText = box.parentElement?.hasAttribute("data-takes-text");
    return takesText && text ? { [code]: text } : code;
  });
}

/** @param {HTMLElement} controls @param {Json[]} picks */
function showPicks(controls, picks) {
  const codes = new Map(picks.map((pick) => [codeOf(pick), pick]));
  for (const box of /** @type {NodeListOf<HTMLInputElement>} */ (controls.querySelectorAll(".choice > input"))) {
    const pick = codes.get(box.value);
    box.checked = pick !== undefined;
    const next = box.parentElement?.nextElementSibling;
    if (!next?.matches(".choice-other")) continue;
    const text = typeof pick === "object" && pick ? Object.values(pick)[0] : "";
    /** @type {HTMLInputElement} */ (next).value = String(text ?? "");
  }
}

/** @param {HTMLElement} controls @param {JsonObject | null} told */
function showQuantity(controls, told) {
  setText(controls, ".qty", String(told?.as ?? ""));
  if (told && controls.querySelector("select")) setText(controls, "select", String(told.unit ?? ""));
}

/** @param {HTMLElement} controls @returns {Json} */
function readPerson(controls) {
  const name = textOf(controls, ".person-name");
  if (!name) return null;
  return {
    person: textOf(controls, "[name$='.person']") || null,
    name,
    role: textOf(controls, ".person-role"),
    credential: textOf(controls, ".person-credential"),
  };
}

/** @param {HTMLElement} controls @param {JsonObject | null} told */
function showPerson(controls, told) {
  setText(controls, ".person-name", String(told?.name ?? ""));
  setText(controls, "[name$='.person']", String(told?.person ?? ""));
  setText(controls, ".person-role", String(told?.role ?? ""));
  setText(controls, ".person-credential", String(told?.credential ?? ""));
}

/** @param {HTMLElement} controls @returns {Json} */
function readPhoto(controls) {
  const kept = textOf(controls, "input[type='hidden']");
  return kept ? { ...JSON.parse(kept), caption: textOf(controls, ".photo-caption") } : null;
}

/** @template T @param {T[]} list @returns {T[] | null} */
function orNull(list) {
  return list.length ? list : null;
}
