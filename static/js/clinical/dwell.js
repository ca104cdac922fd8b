/** @import { Fold } from "../types.js" */
/** @import { Dwell } from "./types-after.js" */
import { heads } from "./over.js";
import { isObject, momentMs, oneAnswer, rowsOf } from "./rows.js";

const [HOUR_MS, MINUTE_MS, DAY_MS] = [3_600_000, 60_000, 86_400_000];
const MOST_OFFSET_MIN = 1440;
const DAY = /^[0-9]{4}-[0-9]{2}-[0-9]{2}$/;
/** calendar: the first day both languages hold */
const FIRST_DAY = "0001-01-01";
const FIRST_SEEN = ["advance.depth_reading", "capture.output_reading", "capture.dial_left_at"];

/** @typedef {{ms: number | null, day: number, isAbout: boolean}} When */

/**
 * Return how long a wire lay that is out; null where either end is not known. Days without
 * hours stay days, never times 24.
 * @param {Fold} fold
 * @param {string} wire
 * @returns {Dwell | null}
 */
export function dwell(fold, wire) {
  const began = beganAt(fold, wire);
  const out = whenOf(oneAnswer(fold, `wires/${wire}/removal.removed_at`));
  if (!began || !out) return null;
  if (began.ms === null || out.ms === null) {
    const days = out.day - began.day;
    return days >= 0 ? { hours: null, days, is_about: true } : null;
  }
  if (out.ms < began.ms) return null;
  const hours = whole(out.ms - began.ms, HOUR_MS);
  return { hours, days: null, is_about: began.isAbout || out.isAbout };
}

/** How many times `per` is whole in a span, also of one before 1970. @param {number} ms @param {number} per */
const whole = (ms, per) => (ms - (((ms % per) + per) % per)) / per;

/** When it was placed: as told of one that came with it, else here. @param {Fold} fold @param {string} wire */
function beganAt(fold, wire) {
  const under = `wires/${wire}`;
  const told = oneAnswer(fold, `${under}/approach.came_placed_at`);
  if (told !== null || heads(fold, `${under}/approach.wire_came`).includes("came_with_it")) return whenOf(told);
  const seen = rowsOf(fold, ...FIRST_SEEN.map((name) => `${under}/${name}`)).at(0);
  if (seen) return whenOf(seen.value.moment) ?? whenOf(fold.entries[seen.id].at);
  return whenOf(rowsOf(fold, "wires").find((row) => row.id === wire)?.value.when);
}

/**
 * @param {any} value any: a moment as kept
 * @returns {When | null}
 */
function whenOf(value) {
  if (!isObject(value)) return null;
  const ms = momentMs(value);
  const isAbout = (value.certainty ?? "exact") !== "exact";
  if (ms !== null) {
    const told = value.offset_min;
    const offset = Number.isInteger(told) && Math.abs(told) <= MOST_OFFSET_MIN ? told : 0;
    return { ms, day: whole(ms + offset * MINUTE_MS, DAY_MS), isAbout };
  }
  const start = typeof value.day === "string" && DAY.test(value.day) ? Date.parse(`${value.day}T00:00:00.000Z`) : NaN;
  const isDay = !Number.isNaN(start) && new Date(start).toISOString().slice(0, 10) === value.day;
  return isDay && value.day >= FIRST_DAY ? { ms: null, day: start / DAY_MS, isAbout: true } : null;
}
