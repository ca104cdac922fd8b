/** @import { Found, Told } from "./types-found.js" */
/** @import { Crossing } from "./types-way.js" */
import { cold } from "./cold.js";
import { CAUTION, cautioned, crossingOf, padsReady } from "./crossing.js";
import { entriesOf } from "./evidence.js";
import { number } from "./exact.js";
import { found } from "./found.js";
import { heads } from "./over.js";
import { remark } from "./remarks.js";
import { isObject, momentMs, oneAnswer } from "./rows.js";
import { siteCode } from "./sites.js";

const FRESH_KEY = "fresh_leads_weeks";
const IMPLANTED = "indication.permanent_leads_implanted";
/** Calendar: milliseconds of a day. */
const DAY_MS = 86_400_000n;
/** Calendar: days of a week. */
const WEEK_D = 7n;

/**
 * Return what is to be thought of before crossing; silent once it is crossed. What was so when
 * it was crossed is still told in the record.
 * @param {Told} told
 * @returns {Found[]}
 */
export function beforeValve(told) {
  const crossing = crossingOf(told);
  const valve = crossing.is_meant ? [...mechanical(told, crossing), ...leftBundle(told, crossing), ...repaired(told, crossing)] : [];
  return [...valve, ...freshLeads(told, crossing), ...cold(told, crossing), ...filter(told)];
}

/** @param {Told} told @param {Crossing} crossing @returns {Found[]} */
function mechanical(told, crossing) {
  const one = remark("mechanical_tricuspid", "look_now", {}, [], "crossing_avoided");
  return cautioned(told, "mechanical_tricuspid", one, crossing.is_ahead);
}

/** @param {Told} told @param {Crossing} crossing @returns {Found[]} */
function repaired(told, crossing) {
  return cautioned(told, "tricuspid_repair", remark("tricuspid_repair", "look_again"), crossing.is_ahead);
}

/** Ask for pads before crossing where the left bundle is blocked, or not known. @param {Told} told @param {Crossing} crossing @returns {Found[]} */
function leftBundle(told, crossing) {
  const path = `${CAUTION}left_bundle_block`;
  /** @type {any[]} any: answers as kept */
  const values = (told.fold.values[path] ?? []).map((head) => head.value);
  const notKnown = values.some((value) => isObject(value) && value.absent === "not_known");
  if (!values.includes("yes") && !notKnown) return [];
  const pads = padsReady(told, crossing);
  if (pads.ready) return [];
  const code = values.includes("yes") ? "left_bundle" : "left_bundle_not_known";
  const one = remark(code, pads.has_none ? "look_now" : "look_again", {}, [], "pads_before_crossing");
  return [found(one, path, "", entriesOf(told.fold, [path]), crossing.is_ahead)];
}

/** Say that permanent leads are young on the day of the record's first entry. @param {Told} told @param {Crossing} crossing @returns {Found[]} */
function freshLeads(told, crossing) {
  const weeks = number(told.limits[FRESH_KEY]);
  const path = `${CAUTION}permanent_leads`;
  const placed = implantedMs(oneAnswer(told.fold, IMPLANTED));
  const times = Object.values(told.fold.entries).map((meta) => meta.time_ms).filter((ms) => ms > 0);
  if (!weeks || placed === null || !heads(told.fold, path).includes("yes")) return [];
  const ageMs = BigInt((times.length ? Math.min(...times) : 0) - placed);
  // A day alone has no zone: it may begin before the record's own day does.
  if (ageMs < -DAY_MS || ageMs * weeks.d >= weeks.n * WEEK_D * DAY_MS) return [];
  const values = { days: String(ageMs < 0n ? 0n : ageMs / DAY_MS) };
  const ids = entriesOf(told.fold, [path, IMPLANTED]);
  return [found(remark("fresh_leads", "look_again", values, [FRESH_KEY]), path, "", ids, crossing.is_ahead)];
}

/** @param {any} value any: a moment as kept @returns {number | null} */
function implantedMs(value) {
  const day = isObject(value) ? value.day : null;
  return typeof day === "string" ? momentMs({ utc: `${day}T00:00:00Z` }) : momentMs(value);
}

/** Say that a filter lies in the vein a wire comes up by. @param {Told} told @returns {Found[]} */
function filter(told) {
  const path = `${CAUTION}vena_cava_filter`;
  if (!heads(told.fold, path).includes("yes")) return [];
  const femoral = told.wires.filter((wire) => siteCode(told.fold, wire).startsWith("femoral"));
  return femoral.map((wire) => {
    const site = `wires/${wire}/approach.site`;
    const ids = entriesOf(told.fold, [path, site]);
    return found(remark("filter_femoral", "look_again"), site, wire, ids, crossingOf(told, wire).is_ahead);
  });
}
