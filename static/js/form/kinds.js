/**
 * The twelve kinds: what typed text means, and whether a value can stand. The same
 * as webapp/catalogue/kinds.py, held equal by fixtures/vectors/kinds.json.
 */

import { checkAbsence } from "./absences.js";
import { checkMany, checkOne, checkYesNo, readPick, readPicks, readYesNo } from "./choices.js";
import { checkDate, readDate } from "./dates.js";
import { checkMoment } from "./instants.js";
import { checkQuantity } from "./limits.js";
import { readMoment } from "./moments.js";
import { readQuantity } from "./quantities.js";
import { withSigns } from "./signs.js";
import { checkDrawing, checkPerson, checkPhoto, isId, readPerson } from "./things.js";
import { isSaid, letters, plain, trim } from "./typed.js";
import { OK, found, illegal, isObject, worst } from "./verdicts.js";

/** @typedef {import("../types-form.js").FieldSpec} FieldSpec */
/** @typedef {import("../types.js").Json} Json */
/** @typedef {import("../types.js").JsonObject} JsonObject */
/** @typedef {import("../types-form.js").Verdict} Verdict */
/** @typedef {{today?: string | null, adult?: boolean}} Setting */

/**
 * Return the JSON value that typed text gives for a field. Never throws. Blank text
 * gives null: nothing was said. Text that cannot be read is kept as typed, and `check`
 * calls it impossible.
 * @param {FieldSpec} field
 * @param {string} raw
 * @param {string | null} [unit] what was said beside a number
 * @param {{today?: string | null, zone?: string | null}} [setting] the local day, and
 *   the zone whose wall clock a typed time means
 * @returns {Json}
 */
export function parse(field, raw, unit = null, setting = {}) {
  const text = plain(raw);
  if (!isSaid(text)) return null;
  switch (field.kind) {
    case "qty": return readQuantity(field, text, unit);
    case "date": return readDate(text, setting.today ?? null);
    case "moment": return readMoment(text, setting.today ?? null, setting.zone ?? null);
    case "one": return readPick(field, text);
    case "many": return orNull(readPicks(field, text));
    case "yn": return readYesNo(text);
    case "person": return readPerson(text);
    default: return trim(text);
  }
}

/**
 * @template T
 * @param {T[]} list
 * @returns {T[] | null}
 */
function orNull(list) {
  return list.length > 0 ? list : null;
}

/**
 * Judge a JSON value of a field. Never throws. An unknown shape is illegal.
 * @param {FieldSpec} field
 * @param {unknown} value
 * @param {Setting} [setting] `today`: without it no date is called too late or too
 *   early; `adult`: false silences soft ranges meant for adults only
 * @returns {Verdict}
 */
export function check(field, value, setting = {}) {
  const isAbsence = isObject(value) && Object.hasOwn(value, "absent");
  const verdict = isAbsence ? checkAbsence(field, value) : checkKind(field, value, setting);
  if (verdict.state === "illegal") return verdict;
  return withSigns(field, value, verdict);
}

/**
 * @param {FieldSpec} field
 * @param {unknown} value
 * @param {Setting} setting
 * @returns {Verdict}
 */
function checkKind(field, value, setting) {
  switch (field.kind) {
    case "text": case "prose": return checkText(field, value);
    case "yn": return checkYesNo(field, value);
    case "one": return checkOne(field, value);
    case "many": return checkMany(field, value);
    case "qty": return checkQuantity(field, value, setting.adult ?? true);
    case "moment": return checkMoment(field, value);
    case "date": return checkDate(field, value, setting.today ?? null);
    case "person": return checkPerson(field, value);
    case "photo": return checkPhoto(field, value);
    case "drawing": return checkDrawing(field, value);
    case "group": return checkRow(field, value, setting);
  }
}

/**
 * @param {FieldSpec} field
 * @param {unknown} value
 * @returns {Verdict}
 */
function checkText(field, value) {
  if (!isSaid(value)) return illegal(field);
  const isLong = field.max_length !== null && letters(plain(value)) > field.max_length;
  return isLong ? found("soft", field, "too_long", { limit: field.max_length }) : OK;
}

/**
 * Judge a row of a group, child by child; problems name "group.child".
 * @param {FieldSpec} field
 * @param {unknown} value
 * @param {Setting} setting
 * @returns {Verdict}
 */
function checkRow(field, value, setting) {
  if (!isObject(value) || !Object.keys(value).some((name) => name !== "of")) return illegal(field);
  const verdicts = [checkParent(field, value)];
  for (const [name, answer] of Object.entries(value)) {
    if (name === "of") continue;
    const child = field.children.find((one) => one.name === name);
    if (!child || child.kind === "group") return illegal(field);
    verdicts.push(check({ ...child, name: `${field.name}.${child.name}` }, answer, setting));
  }
  return worst(verdicts);
}

/**
 * @param {FieldSpec} field
 * @param {JsonObject} row
 * @returns {Verdict}
 */
function checkParent(field, row) {
  if (!Object.hasOwn(row, "of")) return field.row_of ? found("soft", field, "of_missing") : OK;
  return field.row_of && isId(row.of) ? OK : illegal(field);
}
