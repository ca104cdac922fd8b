/** @import { Bedside, QuestionRead } from "../types-form.js" */
import { exactMoment } from "../log/clock.js";
import { el, key, the } from "../form/dom.js";
import { say } from "../form/say.js";
import { lead } from "../live/lead.js";
import { farKey } from "./tablet-far.js";
import { paperKey } from "./tablet-paper.js";
import { caseAddress } from "./tablet-route.js";
import { isFinished } from "./tablet-finished.js";

/**
 * Return the end of the Finish page: what is open, each a way to its field, the way to
 * the handover, and the key that says the case is finished. Nothing open stops it.
 * @param {Bedside} bed
 * @param {QuestionRead[]} questions
 * @returns {HTMLElement}
 */
export function finishSection(bed, questions) {
  const done = isFinished(bed.now);
  const stamp = async () => {
    const value = { name: done ? "opened_again" : "finished", moment: exactMoment(bed.clock(), bed.store.zone()) };
    const words = say(done ? "finish.opened_again" : "finish.finished");
    await bed.keep({ path: "moments", op: "add", value }, { label: bed.index.part("finish")?.label ?? "", words });
  };
  const state = say(done ? "finish.is_finished" : questions.length ? "finish.open" : "finish.nothing_open", { count: questions.length });
  return el(
    "section",
    { class: "finish", "aria-label": say("finish.title") },
    el("h3", { class: "form-section-title" }, say("finish.title")),
    el("p", { class: "finish-said", role: "status" }, state),
    firstOpen(bed, questions),
    el(
      "div",
      { class: "finish-keys" },
      key(say(done ? "finish.open_again" : "finish.finish"), () => void stamp(), { "data-weight": "first", "data-act": "finish" }),
      el("a", { class: "key", href: caseAddress(bed.record, "handover", { wire: bed.wire }) }, say("finish.handover")),
      paperKey(bed),
      farKey(bed),
    ),
    questionList(bed, questions),
  );
}

/**
 * List open questions part by part, each a link to the field that answers it.
 * @param {Bedside} bed
 * @param {QuestionRead[]} questions
 * @returns {HTMLElement}
 */
export function questionList(bed, questions) {
  const groups = bed.index.parts.flatMap((part) => {
    const own = questions.filter((question) => question.part === part.name);
    if (!own.length) return [];
    const title = el("h4", { class: "open-part" }, part.label, " ", el("small", {}, say("rail.open", { count: own.length })));
    return [title, el("ul", {}, ...own.map((question) => item(bed, question)))];
  });
  return el("div", { class: "open-list" }, ...groups);
}

/** The count has a next step: the first open field of the case. @param {Bedside} bed @param {QuestionRead[]} questions */
function firstOpen(bed, [first]) {
  if (!first) return null;
  const part = bed.index.part(first.part)?.label ?? "";
  return el("a", { class: "key finish-first", href: addressOf(bed, first), "data-act": "first-open" }, say("finish.first_open", { part, label: first.label }));
}

/** @param {Bedside} bed @param {QuestionRead} question */
function addressOf(bed, question) {
  const wire = /^wires\/([^/]+)\//.exec(question.path)?.[1] ?? bed.wire;
  return caseAddress(bed.record, question.part, { wire, path: question.path });
}

/** @param {Bedside} bed @param {QuestionRead} question */
function item(bed, question) {
  const href = addressOf(bed, question);
  const why = el("small", {}, say(`why.${question.why}`));
  return el("li", {}, el("a", { href, "data-why": question.why }, lead(question.why === "not_asked" ? "look_again" : "look_now"), el("span", {}, question.label), " ", why));
}

/**
 * Draw the section under the part's own fields.
 * @param {Bedside} bed
 * @param {QuestionRead[]} questions
 */
export function drawFinish(bed, questions) {
  const form = the("#part-finish .part-form");
  const made = finishSection(bed, questions);
  const old = form.parentElement?.querySelector(":scope > .finish");
  if (!old) form.after(made);
  else if (!old.isEqualNode(made)) old.replaceWith(made);
}
