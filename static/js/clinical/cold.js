/** @import { Found, Told } from "./types-found.js" */
/** @import { Crossing } from "./types-way.js" */
/** @import { Exact } from "./types.js" */
import { cautioned } from "./crossing.js";
import { entriesOf } from "./evidence.js";
import { isLess, minus, number, product, ratio } from "./exact.js";
import { found } from "./found.js";
import { remark } from "./remarks.js";
import { oneAnswer, point } from "./rows.js";

const TEMPERATURE = "patient.temperature";
const KEY = "hypothermia_caution_cel";
/** As the catalogue converts them: Cel = (degF - 32) x 5/9. */
const DEGF_OFF = ratio(32n, 1n);
/** As the catalogue converts them. */
const DEGF_PART = ratio(5n, 9n);
/** The catalogue's hard range of a temperature, and the same in Fahrenheit. @type {[string, [Exact, Exact], string][]} */
const UNITS = [
  ["Cel", [ratio(10n, 1n), ratio(47n, 1n)], "cold_cel"],
  ["[degF]", [ratio(50n, 1n), ratio(1166n, 10n)], "cold_degf"],
];

/**
 * Say that the heart is cold: by its temperature, else as it was said.
 * @param {Told} told
 * @param {Crossing} crossing
 * @returns {Found[]}
 */
export function cold(told, crossing) {
  const bound = number(told.limits[KEY]);
  const value = oneAnswer(told.fold, TEMPERATURE);
  for (const [unit, hard, code] of UNITS) {
    const shown = point(value, unit, hard).n;
    const degrees = inCel(number(shown), unit);
    if (shown === null || !degrees || !bound || !isLess(degrees, bound)) continue;
    const one = remark(code, "look_again", { temperature: shown }, [KEY]);
    return [found(one, TEMPERATURE, "", entriesOf(told.fold, [TEMPERATURE]), crossing.is_ahead)];
  }
  return cautioned(told, "severe_hypothermia", remark("cold_said", "look_again"), crossing.is_ahead);
}

/** @param {Exact | null} value @param {string} unit @returns {Exact | null} degrees Celsius */
function inCel(value, unit) {
  return !value || unit === "Cel" ? value : product(minus(value, DEGF_OFF), DEGF_PART);
}
