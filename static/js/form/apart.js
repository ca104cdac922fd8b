/**
 * Typed text that reads its own way and leaves what stands beside it in place. The same
 * as webapp/apart.py, held equal by fixtures/vectors/apart.json.
 */

const [OPENS, CLOSES] = ["\u2068", "\u2069"];
const STARTS = "\u2066\u2067\u2068";
// Scripts written from right to left, their marks, and the signs that turn an order.
const TURNS = /[\u0590-\u08ff\u200f\u202a-\u202e\u2066-\u2069\ufb1d-\ufdff\ufe70-\ufefc\u{10800}-\u{10fff}\u{1e800}-\u{1efff}]/u;
// An isolate ends where a paragraph does: each line is kept apart by itself.
const LINE_ENDS = /(\r\n|[\n\r\u0085\u2029])/;

/**
 * Return `text` as it is shown beside other words: each sign still as typed. Text that
 * turns nothing comes back as it is. Else every line is put between a first-strong
 * isolate and its end; isolates that the text ends without having begun, or begins
 * without ending, are completed, so that it cannot get out of its own.
 * @param {string} text
 * @returns {string}
 */
export function apart(text) {
  if (!TURNS.test(text)) return text;
  // The odd parts are the line ends.
  return text.split(LINE_ENDS).map((part, n) => (n % 2 ? part : line(part))).join("");
}

/**
 * @param {string} text
 * @returns {string}
 */
function line(text) {
  if (!TURNS.test(text)) return text;
  let [unended, unbegun] = [0, 0];
  for (const sign of text) {
    if (STARTS.includes(sign)) unended += 1;
    else if (sign === CLOSES && unended > 0) unended -= 1;
    else if (sign === CLOSES) unbegun += 1;
  }
  return OPENS.repeat(unbegun + 1) + text + CLOSES.repeat(unended + 1);
}
