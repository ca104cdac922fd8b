/** UCUM units: how they are shown and typed, and the exact ways between them. */

import { exact, scaled } from "./decimals.js";
import { asciiLower } from "./typed.js";

/** @typedef {import("../types-form.js").Fraction} Fraction */

/** @type {{[unit: string]: string}} */
const SHOWN = {
  "[Ch]": "Fr", "m[Hg]": "mHg", "mm[Hg]": "mmHg", "cm[H2O]": "cmH₂O", "Cel": "°C", "[degF]": "°F", "deg": "°",
  "Ohm": "Ω", "kOhm": "kΩ", "[pH]": "",
  "a": "y", "mo": "months", "wk": "weeks", "[in_i]": "in", "[ft_i]": "ft", "[lb_av]": "lb", "[oz_av]": "oz",
  "meq": "mEq", "meq/L": "mEq/L", "[drp]/min": "drops/min", "1": "",
};
/** @type {{[unit: string]: string[]}} */
const ALSO_TYPED = {
  "Cel": ["C"], "[degF]": ["F"], "[Ch]": ["French"], "/min": ["bpm"], "mmol/L": ["mM"],
  "a": ["years", "year"], "wk": ["wk", "week"],
};
const RAISED = "⁰¹²³⁴⁵⁶⁷⁸⁹";
// What to find, what to show, in this order; "{1.73_m2}" says per what.
/** @type {[RegExp, (found: string, part: string) => string][]} */
const SIGNS = [
  [/\/\{([^}]*)\}/g, (_, per) => `/${per}`],
  [/\{[^}]*\}/g, () => ""],
  [/_/g, () => " "],
  [/\[IU\]/g, () => "IU"],
  [/(^|[/.])u(?=[A-Za-z])/g, (_, before) => `${before}µ`],
  [/(?<=[a-z])([23])(?![0-9])/g, (_, power) => raised(power)],
  [/10\*([0-9]+)/g, (_, power) => `×10${raised(power)}`],
  [/\.(?=[a-z])/g, () => "·"],
];
// dimension: unit factor [offset]; base value = number * factor + offset. As webapp/catalogue/units.py.
const LINES = `
length: m 1, cm 1/100, mm 1/1000, [in_i] 254/10000, [ft_i] 3048/10000
mass: kg 1000, g 1, mg 1/1000, ug 1/1000000, [lb_av] 45359237/100000
temperature: Cel 1, [degF] 5/9 -160/9
time: ms 1/1000, s 1, min 60, h 3600, d 86400, wk 604800, mo 2629800, a 31557600, mo 2629800, a 31557600
frequency: /min 1, /s 60
current: A 1000, mA 1, uA 1/1000
potential: V 1000, mV 1, uV 1/1000
resistance: Ohm 1, kOhm 1000
volume: L 1000, mL 1
pressure: mm[Hg] 1, kPa 10000000/1333220
amount: mol/L 1000, mmol/L 1, umol/L 1/1000, nmol/L 1/1000000
content: g/L 1, g/dL 10, mg/dL 1/100, mg/L 1/1000, ug/L 1/1000000, ng/mL 1/1000000, ng/L 1/1000000000, pg/mL 1/1000000000
count: 10*9/L 1000, 10*3/uL 1000, /uL 1
dose: Gy 1000, cGy 10, mGy 1`;

/** @type {Map<string, {dimension: string, factor: Fraction, offset: Fraction}>} */
const TO_BASE = new Map(LINES.trim().split("\n").flatMap((line) => {
  const [dimension = "", units = ""] = line.split(": ");
  return units.split(", ").map((said) => {
    const [unit = "", factor = "1", offset = "0"] = said.split(" ");
    return /** @type {const} */ ([unit, { dimension, factor: fraction(factor), offset: fraction(offset) }]);
  });
}));

/**
 * @param {string} text such as "5/9"
 * @returns {Fraction}
 */
function fraction(text) {
  const [num = "0", den = "1"] = text.split("/");
  return { num: BigInt(num), den: BigInt(den) };
}

/**
 * Return a UCUM unit as read aloud or printed: "mm[Hg]" gives "mmHg".
 * @param {string} unit
 * @returns {string}
 */
export function shownUnit(unit) {
  const shown = Object.hasOwn(SHOWN, unit) ? SHOWN[unit] : undefined;
  return shown ?? SIGNS.reduce((text, [sign, instead]) => text.replace(sign, instead), unit);
}

/** @param {string} digits */
function raised(digits) {
  return digits.replace(/[0-9]/g, (digit) => RAISED[Number(digit)] ?? "");
}

/**
 * Return a typed text without the unit of the field at its end, and that unit, or
 * null. Capitals do not matter; the longest fitting form wins.
 * @param {string} text
 * @param {string[]} units
 * @returns {{body: string, unit: string | null}}
 */
export function splitUnit(text, units) {
  const lowered = asciiLower(text);
  let length = 0;
  let found = null;
  for (const unit of units) {
    const also = Object.hasOwn(ALSO_TYPED, unit) ? ALSO_TYPED[unit] : undefined;
    for (const form of [unit, shownUnit(unit), ...(also ?? [])]) {
      if (form.length > length && lowered.endsWith(asciiLower(form))) {
        length = form.length;
        found = unit;
      }
    }
  }
  return { body: text.slice(0, text.length - length), unit: found };
}

/**
 * Return `number` of `unit` in `to`, exactly; null where no fixed way exists.
 * @param {string} number
 * @param {string} unit
 * @param {string} to
 * @returns {Fraction | null}
 */
export function converted(number, unit, to) {
  if (unit === to) return exact(number);
  const here = TO_BASE.get(unit);
  const there = TO_BASE.get(to);
  if (!here || !there || here.dimension !== there.dimension) return null;
  const base = scaled(exact(number), here.factor, here.offset);
  const inverse = { num: there.factor.den, den: there.factor.num };
  const back = { num: -there.offset.num * inverse.num, den: there.offset.den * inverse.den };
  return scaled(base, inverse, back);
}
