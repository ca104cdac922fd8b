import { randomBytes } from "./bytes.js";
import { SHORT_WORDS } from "./short-words.js";

const WORDS = 4;
/** Two bytes a draw; what lies beyond the last whole run of the list is drawn again. */
const DRAWN_FROM = 0x10000;
const YEAR_S = 31_557_600;

/**
 * Draw words at random, each as likely as any other.
 * @param {number} [count]
 * @returns {string} with a blank between
 */
export function drawWords(count = WORDS) {
  const whole = DRAWN_FROM - (DRAWN_FROM % SHORT_WORDS.length);
  /** @type {string[]} */
  const drawn = [];
  while (drawn.length < count) {
    const [high = 0, low = 0] = randomBytes(2);
    const at = high * 256 + low;
    if (at < whole) drawn.push(SHORT_WORDS[at % SHORT_WORDS.length] ?? "");
  }
  return drawn.join(" ");
}

/**
 * Tell how long a guesser tries until the words are found, at so many guesses a second:
 * half of all there are, on average.
 * @param {number} per_s
 * @param {number} [count] of words
 * @returns {number} years, rounded down
 */
export function yearsToGuess(per_s, count = WORDS) {
  return Math.floor(SHORT_WORDS.length ** count / 2 / per_s / YEAR_S);
}

/**
 * Tell how long the list is.
 * @returns {number} words
 */
export function wordsInList() {
  return SHORT_WORDS.length;
}
