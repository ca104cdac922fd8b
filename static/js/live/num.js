import { el } from "../form/dom.js";
import { say } from "../form/say.js";

const NO_BREAK = "\u00a0";

/**
 * Draw a number with its unit. From 30 px up the decimals are lower and underlined and
 * the point is a square of its own, so that 1.0 is never read as 10. A screen reader
 * gets number and unit as one phrase.
 * @param {string} value a decimal, "1.2"
 * @param {string} unit as shown, "mA"
 * @param {object} [options]
 * @param {boolean} [options.text] among other text, at its size: decimals stay whole
 * @returns {HTMLElement}
 */
export function num(value, unit, { text = false } = {}) {
  const spoken = el("span", { class: "spoken" }, `${value}${NO_BREAK}${spokenUnit(unit)}`);
  const tail = el("span", { class: "num-unit" }, text ? NO_BREAK + unit : unit);
  const shown = el("span", { "aria-hidden": "true" }, ...(text ? [el("b", {}, value)] : figures(value)), unit ? tail : null);
  return el("span", { class: "num", "data-size": text ? "text" : null }, spoken, shown);
}

/**
 * @param {string} value
 * @returns {HTMLElement[]}
 */
function figures(value) {
  const [whole = "", part = ""] = value.split(".");
  const first = el("b", {}, whole);
  if (!part) return [first];
  return [first, el("i", { class: "num-point" }), el("span", { class: "num-part" }, part)];
}

/**
 * @param {string} unit
 * @returns {string}
 */
function spokenUnit(unit) {
  const key = `unit.spoken.${unit}`;
  const word = say(key);
  return word === key ? unit : word;
}
