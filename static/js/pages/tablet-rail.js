/** @import { Bedside, QuestionRead } from "../types-form.js" */
import { el, fill } from "../form/dom.js";
import { say } from "../form/say.js";
import { caseAddress } from "./tablet-route.js";

const ALSO = ["checks", "removal"];

/**
 * Draw the rail: the seven parts, pacing checks and removal, each with what is open in
 * words. On a phone one key names the part and opens the rest.
 * @param {HTMLElement} at
 * @param {Bedside} bed
 * @param {string} current
 * @param {QuestionRead[]} questions
 */
export function drawRail(at, bed, current, questions) {
  const parts = bed.index.parts.filter((part) => part.on_rail || ALSO.includes(part.name));
  const place = parts.findIndex((part) => part.name === current);
  const stops = parts.map((part) =>
    el(
      "a",
      { class: "stop", href: caseAddress(bed.record, part.name, { wire: bed.wire }), "aria-current": part.name === current ? "step" : null, "data-part": part.name },
      part.label,
      el("span", { class: "stop-count" }, countWords(bed, part.name, questions)),
    ),
  );
  const picker = el(
    "button",
    { type: "button", class: "key rail-picker", "aria-expanded": String(at.hasAttribute("data-open")) },
    el("b", {}, bed.index.part(current)?.label ?? ""),
    el("span", {}, countWords(bed, current, questions)),
    place < 0 ? null : el("span", {}, say("rail.place", { place: place + 1, of: parts.length })),
  );
  picker.addEventListener("click", () => toggle(at, picker));
  fill(at, picker, el("div", { class: "rail-stops" }, ...stops));
  at.onclick = (event) => {
    if (event.target instanceof Element && event.target.closest(".stop")) at.removeAttribute("data-open");
  };
}

/**
 * Say what is open in a part: a count, "complete", or nothing while a later part has
 * not begun.
 * @param {Bedside} bed
 * @param {string} part
 * @param {QuestionRead[]} questions
 * @returns {string}
 */
export function countWords(bed, part, questions) {
  const count = questions.filter((question) => question.part === part).length;
  if (count) return say("rail.open", { count });
  return say(bed.index.part(part)?.on_rail ? "rail.complete" : "rail.nothing_open");
}

/** The list lies over the page: a tap elsewhere or Escape ends it. @param {HTMLElement} at @param {HTMLElement} picker */
function toggle(at, picker) {
  const isOpen = at.toggleAttribute("data-open");
  picker.setAttribute("aria-expanded", String(isOpen));
  if (!isOpen) return;
  const ends = new AbortController();
  const end = () => {
    at.removeAttribute("data-open");
    at.querySelector(".rail-picker")?.setAttribute("aria-expanded", "false");
    ends.abort();
  };
  const root = at.ownerDocument;
  root.addEventListener("pointerdown", ({ target }) => {
    if (!(target instanceof Node) || !at.contains(target)) end();
  }, { capture: true, signal: ends.signal });
  root.addEventListener("keydown", ({ key }) => key === "Escape" && end(), { signal: ends.signal });
}
