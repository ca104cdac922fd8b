import { el, key } from "../form/dom.js";
import { say } from "../form/say.js";
import { num } from "../live/num.js";
import { bigKey } from "./live-capture-dial.js";

const SIGNS = ["7", "8", "9", "4", "5", "6", "1", "2", "3", ".", "0", "back"];
const LONGEST = 6;

/**
 * Return the figures after one more key.
 * @param {string} figures
 * @param {string} sign a figure, the point, or "back"
 * @returns {string}
 */
export function typedOn(figures, sign) {
  if (sign === "back") return figures.slice(0, -1);
  return figures.length < LONGEST && !(sign === "." && figures.includes(".")) ? figures + sign : figures;
}

/**
 * Draw the number being keyed in, dashed, and keys for numbers that stand elsewhere, each
 * with whose it is: nobody has read them yet.
 * @param {string} figures
 * @param {string} unit
 * @param {[string, string][]} seen whose number, and the number
 * @param {(value: string) => void} take
 * @param {...(HTMLElement | null)} more
 * @returns {HTMLElement}
 */
export function typing(figures, unit, seen, take, ...more) {
  const keys = seen.map(([from, value]) =>
    bigKey([el("small", {}, say(`live.capture.seen.${from}`)), num(value, unit, { text: true })], () => take(value), { class: "key cap-seen-key", "data-act": `seen-${value}`, "data-not-yet": "" }),
  );
  return el("div", { class: "cap-typing" }, el("p", { class: "cap-typed", "data-not-yet": "" }, num(figures || "–", unit)), el("div", { class: "cap-seen" }, ...keys), ...more);
}

/**
 * Draw the figures, large enough for a gloved finger.
 * @param {(sign: string) => void} press
 * @param {() => void} done
 * @returns {HTMLElement}
 */
export function pad(press, done) {
  const keys = SIGNS.map((sign) => key(sign === "back" ? say("keypad.back") : sign, () => press(sign), { "data-key": sign, "aria-label": sign === "back" ? say("keypad.back_spoken") : null }));
  return el("div", { class: "cap-pad" }, ...keys, key(say("live.capture.done"), done, { "data-act": "pad-done", "data-weight": "first" }));
}
