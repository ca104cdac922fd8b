/** The shape of a moment, and the wall clock it was shown on. */

import { isIsoDay } from "./dates.js";
import { isSaid, trim } from "./typed.js";
import { OK, found, hasKeys, illegal, isObject } from "./verdicts.js";

/** @typedef {import("../types-form.js").FieldSpec} FieldSpec */
/** @typedef {import("../types.js").JsonObject} JsonObject */
/** @typedef {import("../types-form.js").Verdict} Verdict */

const CLOCKS = ["tablet", "wall", "server"];
const CERTAINTIES = ["exact", "about"];
const UTC = /^([0-9]{4}-[0-9]{2}-[0-9]{2})T([01][0-9]|2[0-3])(:[0-5][0-9]){2}\.[0-9]{3}Z$/;
const ZONE = /^[A-Z][A-Za-z]*(?:[/_+-][A-Za-z0-9]+)*$/;
const KEYS = ["utc", "zone", "offset_min", "certainty", "clock"];

/**
 * Tell whether `text` is an instant written 2031-11-24T10:41:07.123Z.
 * @param {unknown} text
 * @returns {boolean}
 */
export function isUtc(text) {
  const match = typeof text === "string" ? UTC.exec(text) : null;
  return match !== null && isClockDay(match[1]);
}

/**
 * Return how many minutes the clock of an `at` was ahead of UTC; 0 when unreadable.
 * @param {{offset_min?: unknown}} at
 * @returns {number}
 */
export function offsetOf({ offset_min }) {
  const isKnown = Number.isInteger(offset_min) && Number(offset_min) >= -720 && Number(offset_min) <= 840;
  return isKnown ? Number(offset_min) : 0;
}

/**
 * Tell whether `day` is one on which clock times are taken: 1970 to 2199.
 * @param {unknown} day
 * @returns {boolean}
 */
export function isClockDay(day) {
  return isIsoDay(day) && day >= "1970" && day < "2200";
}

/**
 * Tell whether `day` is one that may be told without a time: 1900 to 2199.
 * @param {unknown} day
 * @returns {boolean}
 */
export function isKnownDay(day) {
  return isIsoDay(day) && day >= "1900" && day < "2200";
}

/**
 * Tell whether `zone` is written as a zone of the IANA list.
 * @param {unknown} zone
 * @returns {zone is string}
 */
export function isZone(zone) {
  return typeof zone === "string" && ZONE.test(zone);
}

/**
 * Judge a JSON value of kind moment.
 * @param {FieldSpec} field
 * @param {unknown} value
 * @returns {Verdict}
 */
export function checkMoment(field, value) {
  if (!isObject(value)) return illegal(field);
  if (hasKeys(value, ["as", "certainty"]) && isSaid(value.as)) {
    if (value.certainty !== "unreadable") return illegal(field);
    return found("impossible", field, "no_such_moment", { typed: trim(value.as) });
  }
  if (hasKeys(value, ["day", "certainty"])) {
    return value.certainty === "day" && isKnownDay(value.day) ? OK : illegal(field);
  }
  return isExact(value) ? OK : illegal(field);
}

/**
 * @param {JsonObject} value
 * @returns {boolean}
 */
function isExact(value) {
  if (!hasKeys(value, KEYS) || !isUtc(value.utc) || !isZone(value.zone)) return false;
  const offset = value.offset_min;
  return typeof offset === "number" && Number.isInteger(offset) && offset >= -720 && offset <= 840 &&
    typeof value.certainty === "string" && CERTAINTIES.includes(value.certainty) &&
    typeof value.clock === "string" && CLOCKS.includes(value.clock);
}

/**
 * Return day and time of an exact or about moment as the clocks there showed them.
 * @param {JsonObject} moment
 * @returns {{day: string, time: string}} time: "10:41"
 */
export function local(moment) {
  const shown = new Date(Date.parse(String(moment.utc)) + Number(moment.offset_min) * 60_000).toISOString();
  return { day: shown.slice(0, 10), time: shown.slice(11, 16) };
}
