/** @import { Mode } from "./types-settings.js" */

/** The letters of each position. It is the letter O, never a zero. */
const LETTERS = ["OAVDS", "OAVDS", "OTID", "OR", "OAVD"];

/**
 * Return a mode from "vvi", "VVIRO" or {"other": "DDDR"}, or null when it is none. The first
 * three positions are always given; the fourth and fifth may be left out.
 * @param {any} value any: an answer as kept
 * @returns {Mode | null}
 */
export function modeOf(value) {
  const told = value !== null && typeof value === "object" ? value.other : value;
  if (typeof told !== "string" || !/^ *[A-Za-z]{3,5} *$/.test(told)) return null;
  const said = [...told.trim().toUpperCase()];
  if (said.some((letter, n) => !LETTERS[n].includes(letter))) return null;
  const letters = LETTERS.map((_, n) => said[n] ?? "");
  return {
    letters,
    code: letters.join(""),
    is_asynchronous: letters[0] !== "O" && letters[1] === "O",
    wants_atrial_wire: letters.slice(0, 2).some((letter) => "AD".includes(letter)),
  };
}

/**
 * Return what each of the five positions says.
 * @param {Mode} mode
 * @param {{[key: string]: string}} words user texts by key
 * @returns {string[]}
 */
export function modeWords(mode, words) {
  return mode.letters.map((letter, n) => words[`clinical.mode.${n + 1}.${letter}`]);
}
