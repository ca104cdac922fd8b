/** @import { Bedside } from "../types-form.js" */
import { el, key } from "../form/dom.js";
import { say } from "../form/say.js";
import { SCRIPTS } from "../rehearsal/scripts.js";
import { begin } from "./tablet-begin.js";
import { isRehearsal } from "./rehearsal.js";

/**
 * Return the keys of Start that have to do with rehearsing: the way there, or, where
 * one rehearses, a key for each scripted patient and the way back.
 * @param {Bedside} bed
 * @returns {HTMLElement[]}
 */
export function rehearsalKeys(bed) {
  if (!isRehearsal()) return [way("/tablet/rehearsal", "start.rehearsal", "start.rehearsal_more", "rehearse")];
  return [
    ...SCRIPTS.map(({ name }) => {
      const made = key("", () => void bed.during(begin(bed, "start_now", say(`rehearsal.alias.${name}`))), { "data-act": `rehearse-${name}` });
      made.append(el("b", {}, say(`rehearsal.alias.${name}`)), el("small", {}, say(`rehearsal.about.${name}`)));
      return made;
    }),
    way("/tablet/", "rehearsal.leave", "rehearsal.leave_more", "leave-rehearsal"),
  ];
}

/** @param {string} href @param {string} words @param {string} more @param {string} act */
function way(href, words, more, act) {
  return el("a", { class: "key", href, "data-act": act }, el("b", {}, say(words)), el("small", {}, say(more)));
}
