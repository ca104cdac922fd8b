/** @import { Json } from "../types.js" */
/** @import { Bedside, FieldSpec } from "../types-form.js" */
import { openAnswer } from "./answer-writer.js";
import { isPast, isPick, watchArrows } from "./arrows.js";
import { readControls, showControls } from "./controls.js";
import { choose, focusOther } from "./boxes.js";
import { check } from "./kinds.js";
import { closeMore, readAbsence, showAbsence } from "./no-answer.js";
import { takePicture } from "./picture.js";
import { say } from "./say.js";
import { setOut } from "./set-out.js";
import { showField } from "./show-field.js";
import { openShown } from "./shown.js";
import { settingOf } from "./today.js";
import { rawOf, restoreRaw } from "./raw.js";

const IDLE_MS = 5000;

/**
 * @typedef {object} FieldView
 * @property {HTMLElement} root
 * @property {() => string} place
 * @property {(isOpen: boolean) => void} render
 * @property {() => Promise<void>} leave make an entry of what was typed
 * @property {(raw: string) => void} restore unfinished text, as before a kill
 */

/**
 * Bring one field of the page to life: taps are entries at once, text becomes one on
 * leaving the field or after 5 s, what arrows pass on leaving it; and the field shows
 * what the record says of it.
 * @param {HTMLElement} root
 * @param {FieldSpec} field
 * @param {Bedside} bed
 * @param {import("./unfinished.js").Drafts} drafts
 * @returns {FieldView}
 */
export function bindField(root, field, bed, drafts) {
  const parts = setOut(root, field, bed, () => commit(readControls(parts.controls, field, settingOf(bed))));
  const writer = openAnswer(String(root.dataset.path), field, bed, drafts, done);
  let [isDirty, idle] = [false, 0];
  const shown = openShown();
  const arrows = watchArrows(root, () => void leave());
  const read = () => readAbsence(parts.absence) ?? readControls(parts.controls, field, settingOf(bed));

  /** @param {Json} value */
  function commit(value) {
    isDirty = false;
    shown.forget();
    clearTimeout(idle);
    writer.commit(value, rawOf(root));
  }

  /** @param {boolean} isKept */
  function done(isKept) {
    shown.forget();
    root.toggleAttribute("data-fault", !isKept);
    if (isKept) return;
    isDirty = true;
    parts.said.textContent = say("receipt.not_kept");
  }

  async function leave() {
    if (isDirty) commit(read());
    await writer.settled();
  }

  /** @param {HTMLElement} [box] @param {boolean} [isWords] what is typed becomes an entry by itself; what an arrow passes does not */
  function typed(box, isWords = true) {
    isDirty = true;
    writer.begin();
    box?.toggleAttribute("data-draft", true);
    drafts.note(writer.place(), rawOf(root));
    clearTimeout(idle);
    if (isWords) idle = setTimeout(() => void leave(), IDLE_MS);
  }

  /** @param {HTMLInputElement} box */
  function passed(box) {
    for (const other of root.querySelectorAll("[data-draft]")) other.removeAttribute("data-draft");
    if (parts.absence.contains(box)) showControls(parts.controls, field, null);
    typed(box, false);
  }

  // What the hand changes is drawn over by the next drawing, unless it is kept by then.
  for (const kind of ["input", "change", "click"]) root.addEventListener(kind, shown.forget, true);

  root.addEventListener("input", ({ target }) => {
    const box = /** @type {HTMLInputElement} */ (target);
    if (parts.controls.contains(box)) showAbsence(parts.absence, null);
    else if (box.type === "text") choose(box);
    if (isWaiting(box, field, parts.controls)) typed(box);
  });

  root.addEventListener("change", ({ target }) => {
    const box = /** @type {HTMLInputElement} */ (target);
    if (box.type === "file") {
      return void bed.during(takePicture(parts.controls, bed).then((kept) => kept && commit(read())));
    }
    if (isPick(box) && arrows.isPassing()) return passed(box);
    if (!isPick(box) || isWaiting(box, field, parts.controls)) return focusOther(box);
    if (parts.absence.contains(box)) showControls(parts.controls, field, null);
    commit(read());
    if (parts.absence.contains(box) && box.value !== "not_done") closeMore(parts.panel);
  });

  root.addEventListener("focusout", ({ target, relatedTarget }) => {
    if (relatedTarget instanceof Element && root.contains(relatedTarget) && !isPast(target, relatedTarget)) return;
    void leave();
  });

  return {
    root,
    leave,
    place: writer.place,
    // Never over what somebody is typing now, or has typed and just left.
    restore: (raw) => void (!isDirty && !writer.isWriting() && !root.contains(document.activeElement) && restoreRaw(root, raw) && typed()),
    render(isOpen) {
      const answer = bed.now.answer(writer.place());
      const kept = answer.heads.length === 1 ? answer.value : null;
      // What is on the screen already says it: a hand that writes on is not disturbed.
      const isTheSame = root.contains(document.activeElement) && JSON.stringify(read()) === JSON.stringify(kept);
      const { today } = settingOf(bed);
      const isHeld = isDirty || isTheSame || writer.isWriting();
      // A picture may come later than its answer.
      if (shown.isShown([answer, isOpen, today], !isHeld && field.kind !== "photo")) return;
      const verdict = kept === null ? null : check(field, kept, { today });
      showField({ parts, field, bed, answer, isOpen, isDirty: isHeld, verdict, today, settle: commit });
    },
  };
}

/**
 * Tell whether a box is not an answer by itself: text, the certainty of a moment, a
 * choice that wants words.
 * @param {HTMLInputElement} box
 * @param {FieldSpec} field
 * @param {HTMLElement} controls
 */
function isWaiting(box, field, controls) {
  if (!isPick(/** @type {EventTarget} */ (box))) return box.type !== "file";
  if (field.kind === "moment" && controls.contains(box)) return true;
  return box.checked && Boolean(box.parentElement?.hasAttribute("data-takes-text"));
}
