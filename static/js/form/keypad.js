import { el, key } from "./dom.js";
import { placeBeside } from "./room.js";
import { say } from "./say.js";

/** Row by row; "" is no key. What is no sign is a word or a deed of its own. */
const KEYS = ["1", "2", "3", "back", ">", "4", "5", "6", "letters", "<", "7", "8", "9", "low", "–", ".", "0", "high", "maximum", "done"];
const WORDS = ["low", "high", "maximum"];
/** @type {{[sign: string]: string}} */
const SPOKEN = {
  ">": "field.mark_more", "<": "field.mark_less", "–": "field.mark_to", ".": "keypad.point",
  back: "keypad.back_spoken", letters: "keypad.letters_spoken",
};

/**
 * Put a keypad beside a number: a finger on the number opens it in place of the
 * tablet's own keyboard, its key opens it for everybody. It only ever adds to what can
 * be typed.
 * @param {HTMLElement} controls of a quantity
 * @param {string} label
 */
export function bindKeypad(controls, label) {
  const box = /** @type {HTMLInputElement} */ (controls.querySelector(".qty"));
  const name = say("keypad.of", { label });
  const opener = key(say("keypad.open"), () => (pad ? close() : open()), { class: "key keypad-key", "aria-expanded": "false", "aria-label": name });
  /** @type {HTMLElement | null} */
  let pad = null;
  let ends = new AbortController();
  controls.append(opener);

  function open() {
    if (pad) return;
    const made = el("div", { class: "keypad", role: "group", "aria-label": name, popover: "manual" }, ...KEYS.map(padKey));
    pad = made;
    controls.append(pad);
    pad.showPopover();
    opener.setAttribute("aria-expanded", "true");
    placeBeside(made, box);
    if (document.activeElement === opener) /** @type {HTMLElement} */ (pad.firstElementChild).focus({ preventScroll: true });
    // The number keeps its cursor while the keypad is tapped.
    pad.addEventListener("mousedown", (event) => event.preventDefault());
    ends = new AbortController();
    const isEnding = { capture: true, signal: ends.signal };
    document.addEventListener("pointerdown", ({ target }) => {
      if (target instanceof Node && !controls.contains(target)) close();
    }, isEnding);
    for (const moved of ["scroll", "resize"]) window.addEventListener(moved, () => placeBeside(made, box), isEnding);
  }

  function close() {
    const closing = pad;
    if (!closing) return;
    pad = null;
    ends.abort();
    if (closing.contains(document.activeElement)) box.focus({ preventScroll: true });
    closing.remove();
    opener.setAttribute("aria-expanded", "false");
    box.inputMode = "decimal";
  }

  /** @param {string} name */
  function padKey(name) {
    const isSign = name.length === 1;
    const spoken = SPOKEN[name] ?? (WORDS.includes(name) ? `field.say_${name}` : "");
    const made = key(isSign ? name : say(`keypad.${name}`), () => press(name), { class: "key", "data-key": name });
    // A name begins with the letters that are seen: whoever speaks to the tablet says them.
    const seen = /^\p{L}+$/u.exec(made.textContent ?? "")?.[0];
    if (spoken) made.setAttribute("aria-label", seen && seen !== say(spoken) ? `${seen}: ${say(spoken)}` : say(spoken));
    return made;
  }

  /** @param {string} name */
  function press(name) {
    if (name === "done") return done();
    if (name === "letters") return letters();
    if (name === "back") takeAway();
    else if (WORDS.includes(name)) box.value = name;
    else put(name);
    box.dispatchEvent(new Event("input", { bubbles: true }));
  }

  /** @param {string} sign */
  function put(sign) {
    box.setRangeText(sign, box.selectionStart ?? box.value.length, box.selectionEnd ?? box.value.length, "end");
  }

  function takeAway() {
    const [from, to] = [box.selectionStart ?? box.value.length, box.selectionEnd ?? box.value.length];
    box.setRangeText("", from === to ? Math.max(0, from - 1) : from, to, "end");
  }

  /** A finger is done with the number; keys go on from it. */
  function done() {
    const isByFinger = document.activeElement === box;
    close();
    if (isByFinger) box.blur();
  }

  /** What no keypad holds is written on the tablet's own keyboard, which comes with the focus. */
  function letters() {
    close();
    box.inputMode = "text";
    box.blur();
    box.focus({ preventScroll: true });
  }

  // Before the focus comes, that the tablet's own keyboard stays away; and opened once
  // the finger is up, or the keypad would be under it.
  box.addEventListener("pointerdown", ({ pointerType }) => {
    if (pointerType !== "mouse" && box.inputMode !== "text") box.inputMode = "none";
  });
  box.addEventListener("click", () => box.inputMode === "none" && open());
  controls.addEventListener("focusout", ({ relatedTarget }) => {
    if (relatedTarget instanceof Node && !controls.contains(relatedTarget)) close();
  });
  controls.addEventListener("keydown", (event) => {
    if (event.key !== "Escape" || !pad) return;
    event.stopPropagation();
    close();
  });
}
