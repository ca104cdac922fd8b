/** @import { Json } from "../types.js" */
/** @import { AnswerRead, Bedside } from "../types-form.js" */
import { el, key } from "./dom.js";
import { lead } from "../live/lead.js";
import { say } from "./say.js";
import { toldBy } from "./told.js";
import { words } from "./words.js";

/**
 * Show two answers side by side, with who said each; a tap settles which stands. Any
 * other answer, typed or chosen in the field itself, settles it as well.
 * @param {HTMLElement} box
 * @param {AnswerRead} answer
 * @param {Bedside} bed
 * @param {string} today
 * @param {(value: Json) => void} settle
 */
export function showAnswers(box, answer, bed, today, settle) {
  const two = answer.state === "two_answers";
  box.hidden = !two;
  if (!two) return box.replaceChildren();
  const heads = bed.now.fold.values[answer.path] ?? [];
  const rows = heads.map((head) => {
    const meta = bed.now.fold.entries[head.entries[0] ?? ""];
    const told = answer.field ? words(answer.field, head.value, today) : "";
    const name = say("answers.take_named", { words: told });
    return el(
      "div",
      { class: "answers-row" },
      el("p", {}, el("b", {}, told), el("small", {}, meta ? toldBy(meta, today) : "")),
      key(say("answers.take"), () => settle(head.value), { "aria-label": name }),
    );
  });
  box.replaceChildren(el("p", { class: "answers-title" }, lead("look_now"), say("answers.title")), ...rows);
}
