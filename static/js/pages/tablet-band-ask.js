/** @import { CaseRead } from "../types-form.js" */
import { el, key } from "../form/dom.js";
import { identityOf } from "../form/identity.js";
import { say } from "../form/say.js";
import { whoBlocks } from "./tablet-strip.js";

/**
 * @typedef {object} BandQuestion
 * @property {string} title
 * @property {string} number as on the band
 * @property {CaseRead | null} here the case that is open
 * @property {{now: CaseRead} | null} other another case with this number
 * @property {{another?: () => void, correct?: () => void, begin?: () => void}} keys
 */

/**
 * Return the question that a wristband asks: full screen, with both identities, and
 * nothing behind it can be reached or changed before it is answered or left.
 */
export function bandQuestion() {
  const box = el("dialog", { class: "band", "aria-labelledby": "band-name" });
  document.body.append(box);
  const close = () => void (box.open && box.close());

  /** @param {BandQuestion} asked */
  function ask({ title, number, here, other, keys }) {
    const doing = (/** @type {() => void} */ act) => () => {
      close();
      act();
    };
    const big = (/** @type {string} */ name, /** @type {string} */ more, /** @type {() => void} */ act) => {
      const made = key("", doing(act), { "data-act": `band-${name}`, "data-danger": name === "correct" });
      made.append(el("b", {}, say(`band.${name}`)), el("small", {}, say(more)));
      return made;
    };
    box.replaceChildren(
      el("h2", { class: "band-name", id: "band-name", tabindex: "-1", autofocus: true }, title),
      el("p", { class: "band-said" }, say("band.not_changed")),
      el(
        "div",
        { class: "band-both" },
        here ? side(say("band.this_case"), here.answer("patient.record_number").words, whose(here)) : null,
        side(say("band.scanned"), number, other ? whose(other.now) : el("p", {}, say("band.no_case"))),
      ),
      el(
        "div",
        { class: "band-keys" },
        keys.another ? big("another", other ? "band.another_open" : "band.another_begin", keys.another) : null,
        keys.begin ? big("begin", "band.begin_more", keys.begin) : null,
        big("leave", "band.leave_more", () => {}),
        keys.correct ? big("correct", "band.correct_more", keys.correct) : null,
      ),
    );
    box.showModal();
  }

  return { ask, close };
}

/** @param {string} title @param {string} number @param {HTMLElement} whose */
function side(title, number, whose) {
  return el("section", { class: "band-side" }, el("h3", {}, title), el("p", { class: "band-number" }, number), whose);
}

/** @param {CaseRead} now */
function whose(now) {
  return el("div", { class: "band-who" }, ...whoBlocks(identityOf(now)));
}
