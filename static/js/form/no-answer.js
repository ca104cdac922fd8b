/** @import { Json, JsonObject } from "../types.js" */
import { el, key } from "./dom.js";
import { isAbsence, setText, textOf } from "./controls.js";
import { isLowIn } from "./room.js";
import { say } from "./say.js";

/**
 * Set out the ways of giving no answer: "not known" stands beside every field, the
 * rest lies under "more", with who said what and when.
 * @param {HTMLElement} absence the `.field-absence`
 * @param {string} label
 * @returns {{panel: HTMLElement, more: HTMLButtonElement}}
 */
export function setOutAbsence(absence, label) {
  const choices = [...absence.children];
  const panel = el("div", { class: "more", hidden: true }, el("p", { class: "more-title" }, label));
  const more = key(say("field.more"), () => toggle(panel, more), {
    "aria-expanded": "false", "aria-label": say("field.more_of", { label }), class: "key more-key",
  });
  const [known, notStated, notDone, because, notAsked] = choices;
  known?.classList.add("absence-key");
  panel.append(
    line(notStated && labelled(notStated, say("absence.not_stated"))),
    line(notDone, because),
    line(notAsked),
  );
  absence.append(more, panel);
  return { panel, more };
}

/**
 * Return the absence chosen, or null.
 * @param {HTMLElement} absence
 * @returns {Json}
 */
export function readAbsence(absence) {
  const chosen = /** @type {HTMLInputElement | null} */ (absence.querySelector("input[type='radio']:checked"));
  const report = textOf(absence, ".absence-not-stated-by");
  const because = textOf(absence, ".absence-because");
  if (!chosen) return report ? { absent: "not_known", not_stated_by: report } : null;
  if (chosen.value === "not_known" && report) return { absent: "not_known", not_stated_by: report };
  if (chosen.value === "not_done" && because) return { absent: "not_done", because };
  return { absent: chosen.value };
}

/**
 * Show an absence; anything else clears the choice.
 * @param {HTMLElement} absence
 * @param {Json} value
 */
export function showAbsence(absence, value) {
  const told = isAbsence(value) ? value : /** @type {JsonObject} */ ({});
  for (const radio of absence.querySelectorAll("input[type='radio']")) {
    const box = /** @type {HTMLInputElement} */ (radio);
    box.checked = box.value === told.absent && told.absent !== "not_asked";
  }
  setText(absence, ".absence-not-stated-by", String(told.not_stated_by ?? ""));
  setText(absence, ".absence-because", String(told.because ?? ""));
  absence.querySelector(".more-key")?.setAttribute("aria-pressed", String(told.absent === "not_done" || "not_stated_by" in told));
}

/**
 * Close a field's panel, as when something else was tapped.
 * @param {HTMLElement} panel
 */
export function closeMore(panel) {
  if (panel.hidden) return;
  panel.hidden = true;
  panel.parentElement?.querySelector(".more-key")?.setAttribute("aria-expanded", "false");
}

/**
 * It lies over the rows below and moves none of them; a tap elsewhere, Escape, or the
 * focus going on to another question ends it.
 * @param {HTMLElement} panel
 * @param {HTMLButtonElement} more
 */
function toggle(panel, more) {
  if (!panel.hidden) return closeMore(panel);
  panel.hidden = false;
  more.setAttribute("aria-expanded", "true");
  panel.dataset.side = isLowIn(panel, more) ? "up" : "down";
  const ends = new AbortController();
  const end = () => {
    closeMore(panel);
    ends.abort();
  };
  const root = panel.ownerDocument;
  root.addEventListener("pointerdown", ({ target }) => {
    if (!(target instanceof Node) || !panel.parentElement?.contains(target)) end();
  }, { capture: true, signal: ends.signal });
  panel.parentElement?.addEventListener("focusout", ({ relatedTarget }) => {
    if (relatedTarget instanceof Node && !panel.parentElement?.contains(relatedTarget)) end();
  }, { signal: ends.signal });
  panel.parentElement?.addEventListener("keydown", (event) => {
    const isEnd = event.key === "Escape" || (event.key === "Enter" && event.target !== more);
    if (!isEnd || panel.hidden) return;
    // Else the same Enter would tap the key that gets the focus.
    event.preventDefault();
    event.stopPropagation();
    end();
    more.focus();
  }, { signal: ends.signal });
}

/** @param {...(Element | undefined)} children */
function line(...children) {
  return el("div", { class: "more-line" }, ...children);
}

/** @param {Element} input @param {string} text */
function labelled(input, text) {
  return el("label", { class: "more-told" }, el("span", {}, text), input);
}
