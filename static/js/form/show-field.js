/** @import { Json, JsonObject } from "../types.js" */
/** @import { AnswerRead, Bedside, FieldSpec, Verdict } from "../types-form.js" */
import { showControls } from "./controls.js";
import { el, fill } from "./dom.js";
import { showAbsence } from "./no-answer.js";
import { showPicture } from "./picture.js";
import { say } from "./say.js";
import { showAnswers } from "./settle.js";
import { entryTime, history } from "./told.js";
import { absenceWords } from "./words.js";

/** A longer reason takes the line alone; when it was kept stands under "more". */
const SHORT = 16;

/**
 * @typedef {object} Shown What one field is to show.
 * @property {import("./set-out.js").FieldParts} parts
 * @property {FieldSpec} field
 * @property {Bedside} bed
 * @property {AnswerRead} answer
 * @property {boolean} isOpen an open question
 * @property {boolean} isDirty typed and not yet an entry: what was typed stays
 * @property {Verdict | null} verdict
 * @property {string} today
 * @property {(value: Json) => void} settle
 */

/**
 * Show what the record says of one field: its answer, its state in words, when it was
 * kept, and what is odd about it. Empty, not asked, not known and no look different.
 * @param {Shown} shown
 */
export function showField(shown) {
  const { parts, field, bed, answer, isOpen, isDirty, verdict, today, settle } = shown;
  const value = answer.heads.length === 1 ? answer.value : null;
  parts.root.dataset.state = stateWord(answer, verdict);
  parts.root.toggleAttribute("data-open", isOpen);
  if (!isDirty) {
    parts.root.removeAttribute("data-fault");
    showControls(parts.controls, field, value);
    showAbsence(parts.absence, value);
    for (const box of parts.root.querySelectorAll("[data-draft]")) box.removeAttribute("data-draft");
  }
  // The hand is still in the field when the camera hands the picture over.
  if (field.kind === "photo") void showPicture(parts.controls, answer.state === "answered" ? /** @type {JsonObject} */ (value) : null, bed);
  fill(parts.said, ...saidLine(shown));
  parts.problem.textContent = (verdict?.problems ?? []).map((problem) => problem.message).join(" ");
  for (const box of parts.controls.querySelectorAll("input.input, textarea")) {
    box.toggleAttribute("aria-invalid", false);
    if (answer.state === "impossible") box.setAttribute("aria-invalid", "true");
  }
  showAnswers(parts.answers, answer, bed, today, settle);
  parts.panel.querySelector(".history")?.remove();
  parts.panel.append(history(bed.now, answer.path, today));
}

/** @param {AnswerRead} answer @param {Verdict | null} verdict */
function stateWord(answer, verdict) {
  if (answer.state !== "answered") return answer.state;
  return verdict?.state === "soft" ? "soft" : "ok";
}

/**
 * @param {Shown} shown
 * @returns {(HTMLElement | string)[]}
 */
function saidLine({ answer, bed, isOpen, today }) {
  const last = bed.now.fold.entries[answer.entries.at(-1) ?? ""];
  if (answer.state === "not_asked") return [isOpen ? el("b", {}, say("words.not_asked")) : say("words.not_asked")];
  const time = last ? say("field.kept", { time: entryTime(last, today) }) : "";
  if (answer.state === "not_known" || answer.state === "not_done") {
    const words = absenceWords(/** @type {JsonObject} */ (answer.value));
    return [el("b", {}, words), words.length > SHORT ? "" : ` · ${time}`];
  }
  if (answer.state === "impossible") return [el("b", {}, say("field.impossible")), ` · ${time}`];
  return [time];
}
