/**
 * Values in words, as the tablet shows them. The same as webapp/catalogue/words.py,
 * with what was typed kept apart; held equal by fixtures/vectors/words.json.
 */

import { apart } from "./apart.js";
import { choiceOf } from "./choices.js";
import { MONTHS } from "./dates.js";
import { local } from "./instants.js";
import { check } from "./kinds.js";
import { quantityWords } from "./quantity-words.js";
import { say } from "./say.js";
import { isSaid, visible } from "./typed.js";
import { isObject } from "./verdicts.js";

/** @typedef {import("../types-form.js").FieldSpec} FieldSpec */
/** @typedef {import("../types.js").Json} Json */
/** @typedef {import("../types.js").JsonObject} JsonObject */

/**
 * Return a value as a person reads it. Never throws. `day`: a day the reader already
 * knows ("2031-11-24"): moments of that day are told without it. null is "not asked".
 * @param {FieldSpec} field
 * @param {unknown} value
 * @param {string | null} [day]
 * @returns {string}
 */
export function words(field, value, day = null) {
  if (value === null || value === undefined) return say("words.not_asked");
  if (check(field, value).state === "illegal") return say("words.not_readable");
  if (isObject(value) && Object.hasOwn(value, "absent")) return visible(absenceWords(value));
  return visible(told(field, value, day));
}

/**
 * @param {FieldSpec} field
 * @param {any} value any: sound for the field's kind, as `check` has said
 * @param {string | null} day
 * @returns {string}
 */
function told(field, value, day) {
  switch (field.kind) {
    case "yn": return say(`words.${value}`);
    case "one": return pickWords(field, value);
    case "many": return value.map((/** @type {Json} */ pick) => apart(pickWords(field, pick))).join(", ");
    case "qty": return quantityWords(value);
    case "moment": return momentWords(value, day);
    case "date": return Object.hasOwn(value, "date") ? dayWords(value.date) : value.as;
    case "person": return personWords(value);
    case "photo":
      return say(isSaid(value.caption) ? "words.photo_caption" : "words.photo", { caption: value.caption });
    case "drawing": return say("words.drawing");
    case "group": return rowWords(field, value, day);
    default: return value;
  }
}

/**
 * Return "not known", "not stated by …", "not done, because …", "not asked".
 * @param {JsonObject} value
 * @returns {string}
 */
export function absenceWords(value) {
  if (Object.hasOwn(value, "not_stated_by")) return say("words.not_stated", { report: String(value.not_stated_by) });
  if (value.absent !== "not_done") return say(`words.${value.absent}`);
  return isSaid(value.because) ? say("words.not_done", { because: value.because }) : say("words.not_done_unsaid");
}

/**
 * Return "2031-11-24" as "24 Nov 2031".
 * @param {string} day
 * @returns {string}
 */
export function dayWords(day) {
  return `${Number(day.slice(8))} ${MONTHS[Number(day.slice(5, 7)) - 1] ?? ""} ${Number(day.slice(0, 4))}`;
}

/**
 * Return "24 Nov 2031 10:41", "24 Nov 2031 about 10:41", or the day alone.
 * @param {JsonObject} value
 * @param {string | null} [day] told without it when it is that day
 * @returns {string}
 */
export function momentWords(value, day = null) {
  if (typeof value.day === "string") return dayWords(value.day);
  if (!Object.hasOwn(value, "utc")) return String(value.as);
  const here = local(value);
  const time = value.certainty === "about" ? say("words.about", { time: here.time }) : here.time;
  return here.day === day ? time : `${dayWords(here.day)} ${time}`;
}

/**
 * @param {FieldSpec} field
 * @param {Json} pick
 * @returns {string}
 */
function pickWords(field, pick) {
  const [code = "", text = null] = isObject(pick) ? Object.entries(pick)[0] ?? [] : [String(pick)];
  const label = choiceOf(field, code)?.label ?? code;
  if (text === null) return label;
  return code === "other" ? String(text) : say("words.row_child", { label, words: String(text) });
}

/**
 * @param {JsonObject} value
 * @returns {string}
 */
function personWords(value) {
  const { role, credential } = value;
  const name = String(value.name);
  const titled = isSaid(credential) ? say("words.person_credential", { name, credential }) : name;
  return isSaid(role) ? say("words.person_role", { name: titled, role }) : titled;
}

/**
 * @param {FieldSpec} field
 * @param {JsonObject} row
 * @param {string | null} day
 * @returns {string}
 */
function rowWords(field, row, day) {
  return field.children
    .filter((child) => Object.hasOwn(row, child.name))
    .map((child) => say("words.row_child", { label: child.label, words: words(child, row[child.name], day) }))
    .join("; ");
}
