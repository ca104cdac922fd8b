/** @import { LimitRow, Remark, Weight } from "./types.js" */

/** @type {Weight[]} heaviest first */
export const HEAVIER = ["look_now", "look_again", "fits"];

/**
 * Make a remark.
 * @param {string} code
 * @param {Weight} weight
 * @param {{[name: string]: string}} [values]
 * @param {string[]} [limits]
 * @param {string} [asked]
 * @returns {Remark}
 */
export function remark(code, weight, values = {}, limits = [], asked = "") {
  return { code, weight, values, limits, asks: asked };
}

/**
 * Return the remarks by weight, each said once, otherwise in the order found.
 * @param {Remark[]} remarks
 * @returns {Remark[]}
 */
export function heavierFirst(remarks) {
  const once = new Map(remarks.map((one) => [JSON.stringify(one), one]));
  return HEAVIER.flatMap((weight) => [...once.values()].filter((one) => one.weight === weight));
}

/**
 * Return what was found, in one line.
 * @param {Remark} one
 * @param {{[key: string]: string}} words user texts by key
 * @returns {string}
 */
export function finding(one, words) {
  return filled(words[`clinical.remark.${one.code}`], one.values);
}

/**
 * Return what policy asks, or "" where it asks nothing.
 * @param {Remark} one
 * @param {{[key: string]: string}} words
 * @returns {string}
 */
export function asks(one, words) {
  return one.asks ? filled(words[`clinical.asks.${one.asks}`], one.values) : "";
}

/**
 * Return what else belongs to the finding, or "".
 * @param {Remark} one
 * @param {{[key: string]: string}} words
 * @returns {string}
 */
export function more(one, words) {
  return filled(words[`clinical.more.${one.code}`] ?? "", one.values);
}

/**
 * Return the line below: each limit with its source, then who decides.
 * @param {Remark} one
 * @param {{[key: string]: LimitRow}} rows limits as exported
 * @param {{[key: string]: string}} words
 * @returns {string}
 */
export function sourceLine(one, rows, words) {
  const told = one.limits
    .filter((key) => key in rows)
    .map((key) => filled(words["clinical.limit"], { ...rows[key], word: words[`clinical.word.${rows[key].word}`] ?? rows[key].word }));
  return [...told, words["caution.decides"]].join(" ");
}

/**
 * Return the word of its weight: "Fits", "Look again", "Look now".
 * @param {Remark} one
 * @param {{[key: string]: string}} words
 * @returns {string}
 */
export function weightWord(one, words) {
  return words[`clinical.weight.${one.weight}`];
}

/**
 * @param {string} text
 * @param {{[name: string]: string}} values
 * @returns {string}
 */
function filled(text, values) {
  return Object.entries(values).reduce((so, [name, value]) => so.replaceAll(`{${name}}`, () => value), text);
}
