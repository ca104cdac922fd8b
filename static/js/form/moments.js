/** Moments: exact, about, or a day; typed wall clocks, zones, clock changes. */

import { offsetMin } from "../log/clock.js";
import { typedDay } from "./dates.js";
import { isClockDay, isKnownDay, isUtc, isZone } from "./instants.js";
import { isLong, western } from "./typed.js";

/** @typedef {import("../types.js").JsonObject} JsonObject */
/** @typedef {[number, number, number]} Time hours, minutes, seconds */

const ABOUT = /^(?:about|ca\.?|~) */i;
const TIME = /^([01]?[0-9]|2[0-3])[:.]([0-5][0-9])(?::([0-5][0-9]))?$/;
const PACKED_TIME = /^([01][0-9]|2[0-3])([0-5][0-9])$/;
const OFFSET = / *([+-])(0[0-9]|1[0-4]):?([0-5][0-9])$/;
const DAY_THEN_TIME = /^(?:([^]*?)(?:, *| +|T))?([0-9]+[.:][0-9.:]+)$/;
const DAY_MS = 86_400_000;

/**
 * Return how far a zone's clocks are ahead of UTC; null: an unknown zone.
 * @param {string} zone
 * @param {number} ms
 * @returns {number | null}
 */
function knownOffset(zone, ms) {
  if (!isZone(zone)) return null;
  try {
    return offsetMin(ms, zone) + 0; // +0: an offset of -0 is none of JSON's
  } catch {
    return null;
  }
}

/**
 * Return hours, minutes, seconds of "10:41", "9.05", "1041", "10:41:07", or null.
 * @param {string} text
 * @returns {Time | null}
 */
export function typedTime(text) {
  const match = TIME.exec(text) ?? PACKED_TIME.exec(text);
  return match ? [Number(match[1]), Number(match[2]), Number(match[3] ?? 0)] : null;
}

/**
 * Return every moment at which the clocks of `zone` showed that time: one as a rule,
 * two in the hour an autumn change repeats, none in the one spring leaves out.
 * @param {string} day "2031-11-24"
 * @param {Time} time
 * @param {string} zone
 * @param {"exact" | "about"} [certainty]
 * @param {string} [clock]
 * @returns {JsonObject[]}
 */
export function wallMoments(day, time, zone, certainty = "exact", clock = "wall") {
  if (!isClockDay(day)) return [];
  const wall = Date.parse(`${day}T00:00:00Z`) + ((time[0] * 60 + time[1]) * 60 + time[2]) * 1000;
  const around = new Set([knownOffset(zone, wall - DAY_MS), knownOffset(zone, wall + DAY_MS)]);
  return [...around].filter((offset) => offset !== null).sort((a, b) => b - a)
    .map((offset) => ({ offset, ms: wall - offset * 60_000 }))
    .filter(({ offset, ms }) => knownOffset(zone, ms) === offset)
    .map(({ offset, ms }) => moment(ms, zone, offset, certainty, clock))
    // A wall clock on the first or last day may show what is no instant taken here.
    .filter(({ utc }) => isUtc(utc));
}

/**
 * @param {number} ms
 * @param {string} zone
 * @param {number} offset
 * @param {"exact" | "about"} certainty
 * @param {string} clock
 * @returns {JsonObject}
 */
function moment(ms, zone, offset, certainty, clock) {
  return { utc: new Date(ms).toISOString(), zone, offset_min: offset, certainty, clock };
}

/**
 * Return the moment that typed text gives; unreadable text is kept as typed. In the
 * hour an autumn change repeats only a typed offset ("02:30 +01:00") tells which.
 * @param {string} raw
 * @param {string | null} today
 * @param {string | null} zone
 * @returns {JsonObject}
 */
export function readMoment(raw, today, zone) {
  const text = western(raw);
  const unreadable = { as: raw, certainty: "unreadable" };
  if (isLong(text)) return unreadable;
  if (isUtc(text)) {
    const offset = knownOffset(zone || "UTC", Date.parse(text));
    return offset === null ? unreadable : moment(Date.parse(text), zone || "UTC", offset, "exact", "wall");
  }
  const day = typedDay(text, today);
  if (day !== null && isKnownDay(day)) return { day, certainty: "day" };
  const body = text.replace(ABOUT, "");
  const moments = typedWall(body, today, zone, body === text ? "exact" : "about");
  return moments.length === 1 ? moments[0] ?? unreadable : unreadable;
}

/**
 * @param {string} text
 * @param {string | null} today
 * @param {string | null} zone
 * @param {"exact" | "about"} certainty
 * @returns {JsonObject[]}
 */
function typedWall(text, today, zone, certainty) {
  const offset = OFFSET.exec(text);
  const match = DAY_THEN_TIME.exec(offset ? text.slice(0, offset.index) : text);
  if (!match || zone === null) return [];
  const day = match[1] ? typedDay(match[1], today) : today;
  const time = typedTime(match[2] ?? "");
  if (day === null || time === null) return [];
  const moments = wallMoments(day, time, zone, certainty);
  if (!offset) return moments;
  const minutes = (Number(offset[2]) * 60 + Number(offset[3])) * (offset[1] === "+" ? 1 : -1);
  return moments.filter((one) => one.offset_min === minutes + 0);
}
