/** Typed text before any kind reads it: blanks, digits of other scripts, controls. */

// Named one by one: the two languages' own notions of white space differ.
const SPACE = " \t\n\r\v\f\u00a0\u2007\u2009\u202f";
// Control characters other than tab and newline.
const CONTROL = /[\x00-\x08\x0b-\x1f\x7f-\x9f]/g;
const LONE_SURROGATE = /[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;
const SIGNS = new Map([
  ...digits(0x0660), ...digits(0x06f0), ...digits(0xff10),
  ["\u066b", "."], ["\uff0e", "."], ["\uff0c", ","], ["\u2212", "-"], ["\uff0d", "-"], ["\u03bc", "\u00b5"],
]);

/** Stands where a sign was lost: half of a pair, or what another program could not read. */
export const LOST = "\ufffd";

/** Longer text is neither number, date nor time: a pasted page must cost no search. */
export const LONGEST = 80;

/**
 * @param {number} zero code of the script's zero
 * @returns {[string, string][]}
 */
function digits(zero) {
  return Array.from({ length: 10 }, (_, d) => [String.fromCharCode(zero + d), String(d)]);
}

/**
 * Return `text` without blanks at its ends.
 * @param {string} text
 * @returns {string}
 */
export function trim(text) {
  let from = 0;
  let to = text.length;
  while (from < to && SPACE.includes(text.charAt(from))) from += 1;
  while (to > from && SPACE.includes(text.charAt(to - 1))) to -= 1;
  return text.slice(from, to);
}

/**
 * Return `text` with one kind of newline and no half characters (U+FFFD instead).
 * @param {string} text
 * @returns {string}
 */
export function plain(text) {
  return text.replace(/\r\n?/g, "\n").replace(LONE_SURROGATE, LOST);
}

/**
 * Tell whether `text` holds half of a surrogate pair.
 * @param {string} text
 * @returns {boolean}
 */
export function hasHalfCharacter(text) {
  return text.search(LONE_SURROGATE) >= 0;
}

/**
 * Tell whether `text` holds a control character other than tab and newline.
 * @param {string} text
 * @returns {boolean}
 */
export function hasControl(text) {
  return text.search(CONTROL) >= 0;
}

/**
 * Return `text` with A to Z lowered and every other character untouched.
 * @param {string} text
 * @returns {string}
 */
export function asciiLower(text) {
  return text.replace(/[A-Z]/g, (letter) => letter.toLowerCase());
}

/**
 * Return `text` trimmed, Arabic and full-width digits and signs made ASCII.
 * @param {string} text
 * @returns {string}
 */
export function western(text) {
  return trim(text).replace(/[\u0660-\u0669\u06f0-\u06f9\uff10-\uff19\u066b\uff0e\uff0c\u2212\uff0d\u03bc]/g,
    (sign) => SIGNS.get(sign) ?? sign);
}

/**
 * Count characters (code points), as Python does.
 * @param {string} text
 * @returns {number}
 */
export function letters(text) {
  let count = 0;
  for (const _ of text) count += 1;
  return count;
}

/**
 * Tell whether `text` is too long to be a number, a date or a time.
 * @param {string} text
 * @returns {boolean}
 */
export function isLong(text) {
  return text.length > LONGEST && letters(text) > LONGEST;
}

/**
 * Tell whether `text` is a string that says something.
 * @param {unknown} text
 * @returns {text is string}
 */
export function isSaid(text) {
  return typeof text === "string" && trim(text) !== "";
}

/**
 * Return `text` with control characters as their visible pictures.
 * @param {string} text
 * @returns {string}
 */
export function visible(text) {
  return text.replace(CONTROL, (sign) => picture(sign.charCodeAt(0)));
}

/**
 * @param {number} code
 * @returns {string}
 */
function picture(code) {
  if (code === 0x7f) return "\u2421";
  return code < 0x20 ? String.fromCharCode(0x2400 + code) : "\ufffd";
}
