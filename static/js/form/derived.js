import { isUtc, offsetOf } from "./instants.js";

/**
 * Values worked out from others, read by conditions under the paths `derived.*`.
 * The same as webapp/record/derived.py: whole years and days at the first entry's day.
 */

const DAY_MS = 86_400_000;

/**
 * A derived value as a quantity, or null where it cannot be known.
 * @param {import("../types.js").Fold} fold
 * @param {string} path
 * @returns {{as: string, n: string, unit: string} | null}
 */
export function derived(fold, path) {
  const born = only(fold, "patient.birth_date");
  const day = firstDay(fold);
  if (born && typeof born.date === "string" && day !== null) return fromBirth(born.date, day, path);
  return fromEstimate(only(fold, "patient.estimated_age"), path);
}

/**
 * @param {import("../types.js").Fold} fold
 * @param {string} path
 * @returns {any} the one value, untyped as every value of a fold is; null when there is not exactly one
 */
function only(fold, path) {
  const heads = fold.values[path] ?? [];
  const value = heads.length === 1 ? heads[0]?.value : null;
  return typeof value === "object" ? value : null;
}

/**
 * @param {import("../types.js").Fold} fold
 * @returns {number | null} days since 1970 of the first entry's local day
 */
function firstDay(fold) {
  const first = fold.order[0];
  const at = first === undefined ? undefined : fold.entries[first]?.at;
  if (!at || !isUtc(at.utc)) return null;
  return Math.floor((Date.parse(at.utc) + offsetOf(at) * 60_000) / DAY_MS);
}

/**
 * @param {string} text
 * @param {number} day
 * @param {string} path
 */
function fromBirth(text, day, path) {
  const ms = /^\d{4}-\d\d-\d\d$/.test(text) ? Date.parse(`${text}T00:00:00Z`) : NaN;
  if (Number.isNaN(ms) || new Date(ms).toISOString().slice(0, 10) !== text) return null;
  const born = ms / DAY_MS;
  if (born > day) return null;
  if (path === "derived.age_days") return quantity(day - born, "d");
  if (path !== "derived.age_years") return null;
  const today = new Date(day * DAY_MS).toISOString().slice(0, 10);
  const before = today.slice(5) < text.slice(5) ? 1 : 0;
  return quantity(Number(today.slice(0, 4)) - Number(text.slice(0, 4)) - before, "a");
}

/**
 * @param {any} told a quantity as kept, or anything
 * @param {string} path
 */
function fromEstimate(told, path) {
  if (!told || "cmp" in told || typeof told.n !== "string") return null;
  const whole = told.n.split(".")[0] ?? "";
  if (!/^\d{1,6}$/.test(whole)) return null;
  const amount = Number(whole);
  if (path === "derived.age_years" && ["a", "d", "h"].includes(told.unit)) return quantity(told.unit === "a" ? amount : 0, "a");
  if (path === "derived.age_days" && ["d", "h"].includes(told.unit)) return quantity(told.unit === "d" ? amount : Math.floor(amount / 24), "d");
  return null;
}

/**
 * @param {number} amount
 * @param {string} unit
 */
function quantity(amount, unit) {
  return { as: String(amount), n: String(amount), unit };
}
