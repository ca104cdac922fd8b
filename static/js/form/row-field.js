/** @import { Json } from "../types.js" */
/** @import { Bedside, FieldSpec } from "../types-form.js" */
import { exactMoment } from "../log/clock.js";
import { isAbsence, readControls, showControls } from "./controls.js";
import { check } from "./kinds.js";
import { readAbsence, showAbsence } from "./no-answer.js";
import { showPicture, takePicture } from "./picture.js";
import { say } from "./say.js";
import { setOut } from "./set-out.js";
import { settingOf } from "./today.js";

/** @typedef {{field: FieldSpec, root: HTMLElement, read: () => Json, ask: (isAsked: boolean) => void, judge: () => void}} RowField */

/**
 * Bring one field of a row being told to life. Nothing is an entry until the row is kept.
 * @param {HTMLElement} root
 * @param {FieldSpec} field
 * @param {Bedside} bed
 * @param {boolean} isNow the moment is the one at which the row is kept, until another is said
 * @param {() => void} onInput
 * @returns {RowField}
 */
export function bindRowField(root, field, bed, isNow, onInput) {
  const parts = setOut(root, field, bed, () => changed());
  const nowKey = parts.controls.querySelector("[data-act='now']");
  let waitsForNow = isNow;
  parts.said.remove();
  mark();

  function mark() {
    if (!isNow || !nowKey) return;
    nowKey.setAttribute("aria-pressed", String(waitsForNow));
    nowKey.textContent = say(waitsForNow ? "moment.when_kept" : "moment.now");
  }

  function changed() {
    waitsForNow = false;
    mark();
    judge();
    onInput();
  }

  /** @returns {Json} */
  function read() {
    const absent = readAbsence(parts.absence);
    if (isAbsence(absent)) return absent.absent === "not_asked" ? null : absent;
    if (waitsForNow) return exactMoment(bed.clock(), bed.store.zone());
    return readControls(parts.controls, field, settingOf(bed));
  }

  function judge() {
    const value = waitsForNow ? null : read();
    const verdict = value === null ? null : check(field, value, settingOf(bed));
    root.dataset.state = isAbsence(value) ? String(value.absent) : (verdict?.state ?? "not_asked");
    parts.problem.textContent = (verdict?.problems ?? []).map((problem) => problem.message).join(" ");
    for (const box of parts.controls.querySelectorAll("input.input, textarea")) {
      if (verdict?.state === "impossible") box.setAttribute("aria-invalid", "true");
      else box.removeAttribute("aria-invalid");
    }
  }

  root.addEventListener("input", ({ target }) => {
    const box = /** @type {HTMLInputElement} */ (target);
    if (box.type === "file") return;
    if (parts.controls.contains(box)) showAbsence(parts.absence, null);
    else if (box.type === "radio" || box.value) showControls(parts.controls, field, null);
    if (box.matches(".absence-because") && box.value) choose(box);
    changed();
  });
  root.addEventListener("change", ({ target }) => {
    if (/** @type {HTMLInputElement} */ (target).type !== "file") return;
    const taken = takePicture(parts.controls, bed).then((isKept) => {
      if (!isKept) return;
      const value = readControls(parts.controls, field, settingOf(bed));
      void showPicture(parts.controls, /** @type {import("../types.js").JsonObject} */ (value), bed);
      changed();
    });
    void bed.during(taken);
  });
  return { field, root, read, judge, ask: (isAsked) => void (root.hidden = !isAsked && read() === null) };
}

/** @param {HTMLInputElement} box */
function choose(box) {
  const radio = /** @type {HTMLInputElement | null} */ (box.closest(".more-line")?.querySelector("input[type='radio']") ?? null);
  if (radio) radio.checked = true;
}
