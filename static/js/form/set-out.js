/** @import { Bedside, FieldSpec } from "../types-form.js" */
import { stamp } from "../log/clock.js";
import { el, key } from "./dom.js";
import { bindCountKeys } from "./count-keys.js";
import { bindKeypad } from "./keypad.js";
import { setOutAbsence } from "./no-answer.js";
import { say } from "./say.js";
import { showMoment } from "./moment-controls.js";
import { bindSketch } from "./sketch.js";

const AGO_MIN = [2];
/** More than these are set in columns, under the question. */
const FEW_CHOICES = 6;
const TYPED = ["text", "prose", "qty", "date", "moment", "person"];

/** @type {[string, string][]} What is to be written on a line that has no name of its own beside it. */
const PLACES = [
  [".moment-day", "moment.day"],
  [".moment-time", "moment.time"],
  [".person-name", "person.name"],
  [".person-role", "person.role"],
  [".person-credential", "person.credential"],
  [".photo-caption", "photo.caption"],
  [".choice-other", "choice.other"],
];

/**
 * @typedef {object} FieldParts The pieces of one field on the page.
 * @property {HTMLElement} root
 * @property {HTMLElement} controls
 * @property {HTMLElement} absence
 * @property {HTMLElement} said
 * @property {HTMLElement} problem
 * @property {HTMLElement} answers
 * @property {HTMLElement} panel
 */

/**
 * Set a field of the shell out as a row: name and what became of it, controls, no
 * answer; and bring the controls that need script to life.
 * @param {HTMLElement} root
 * @param {FieldSpec} field
 * @param {Bedside} bed
 * @param {() => void} onStamp after a key of the controls wrote a whole answer
 * @returns {FieldParts}
 */
export function setOut(root, field, bed, onStamp) {
  const find = (/** @type {string} */ css) => /** @type {HTMLElement} */ (root.querySelector(css));
  const [controls, absence, problem] = [find(".field-controls"), find(".field-absence"), find(".field-problem")];
  const said = el("p", { class: "field-said" });
  const hint = root.querySelector(".field-hint");
  const isTyped = TYPED.includes(field.kind);
  const name = el("div", { class: "field-name" }, find(".field-label"), isTyped ? null : hint, said);
  root.append(el("div", { class: "field-foot" }, isTyped ? hint : null, problem));
  const answers = el("div", { class: "answers", hidden: true });
  root.prepend(name);
  root.insertBefore(answers, controls);
  const { panel } = setOutAbsence(absence, field.label);
  root.toggleAttribute("data-long", field.choices.length > FEW_CHOICES);
  liven(controls, field, bed, onStamp);
  // Which clock a time was read from is seldom asked: it lies with the rest of the rare.
  const clock = controls.querySelector(".moment-clock");
  if (clock) panel.append(el("label", { class: "more-told" }, el("span", {}, say("moment.clock")), clock));
  return { root, controls, absence, said, problem, answers, panel };
}

/** @param {HTMLElement} controls @param {FieldSpec} field @param {Bedside} bed @param {() => void} onStamp */
function liven(controls, field, bed, onStamp) {
  for (const hidden of controls.querySelectorAll("[hidden]")) hidden.removeAttribute("hidden");
  for (const [css, word] of PLACES) controls.querySelector(css)?.setAttribute("placeholder", say(word));
  if (field.kind === "moment") livenMoment(controls, bed, onStamp);
  if (field.kind === "qty") bindCountKeys(controls, field, onStamp);
  if (field.kind === "qty") bindKeypad(controls, field.label);
  if (field.kind === "person") livenPerson(controls, bed);
  if (field.kind === "drawing") livenDrawing(controls, onStamp);
}

/** @param {HTMLElement} controls @param {Bedside} bed @param {() => void} onStamp */
function livenMoment(controls, bed, onStamp) {
  const put = (/** @type {number} */ minutes) => {
    const at = stamp(bed.clock() - minutes * 60_000, bed.store.zone());
    showMoment(controls, { ...at, certainty: minutes ? "about" : "exact", clock: "tablet" });
    onStamp();
  };
  const now = /** @type {HTMLElement} */ (controls.querySelector("[data-act='now']"));
  now.addEventListener("click", () => put(0));
  now.after(...AGO_MIN.map((minutes) => key(say("moment.ago", { minutes }), () => put(minutes))));
}

/**
 * A name from the list brings its role and credential with it; any other stands alone.
 * @param {HTMLElement} controls
 * @param {Bedside} bed
 */
function livenPerson(controls, bed) {
  const box = (/** @type {string} */ css) => /** @type {HTMLInputElement} */ (controls.querySelector(css));
  box(".person-name").addEventListener("change", () => {
    const known = bed.people.find((person) => person.name === box(".person-name").value.trim());
    box("[name$='.person']").value = known?.id ?? "";
    if (!known) return;
    box(".person-role").value = known.role;
    box(".person-credential").value = known.credential;
  });
}

/** @param {HTMLElement} controls @param {() => void} onStamp */
function livenDrawing(controls, onStamp) {
  bindSketch(controls, () => controls.querySelector("canvas")?.dispatchEvent(new Event("input", { bubbles: true })));
  controls.querySelector("[data-act='clear']")?.addEventListener("click", () => {
    const hidden = /** @type {HTMLInputElement} */ (controls.querySelector("input[type='hidden']"));
    hidden.value = "";
    const canvas = /** @type {HTMLCanvasElement} */ (controls.querySelector("canvas"));
    canvas.getContext("2d")?.clearRect(0, 0, canvas.width, canvas.height);
    onStamp();
  });
}
