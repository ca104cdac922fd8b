/** @import { Bedside } from "../types-form.js" */
import { el, key } from "../form/dom.js";
import { wirePath } from "../form/fields.js";
import { say } from "../form/say.js";
import { caseAddress } from "./tablet-route.js";
import { answer, specOf, standingAnswer } from "./live-capture-keep.js";

const SIGNS = "capture.mechanical_capture";

/**
 * The modes a generator can be read at; one that is another is told among all fields.
 * @param {Bedside} bed
 * @param {string} read the one read already
 * @param {(mode: string) => void} take
 * @returns {HTMLElement[]}
 */
export function modePad(bed, read, take) {
  const choices = specOf(bed, "capture.dial_left_at").children.find((child) => child.name === "mode")?.choices ?? [];
  const keys = choices.filter((choice) => !choice.takes_text).map(({ code, label }) => key(label, () => take(code), { "data-act": `mode-${code}`, "aria-pressed": String(code === read) }));
  return [el("div", { class: "cap-modes" }, ...keys)];
}

/**
 * The signs of a beat that was pumped, beside the monitor: each tap says or takes back one. Where two
 * answers stand a tap leads to both: which one stands is for somebody to say.
 * @param {Bedside} bed
 * @param {import("../form/unfinished.js").Drafts} drafts
 * @returns {HTMLElement}
 */
export function pulseSigns(bed, drafts) {
  const field = specOf(bed, SIGNS);
  const keys = field.choices.filter((choice) => !choice.takes_text).map(({ code, label }) =>
    key(label, () => toggle(code), { "data-act": `sign-${code}`, "aria-pressed": String(said().includes(code)) }),
  );
  return el("div", { class: "cap-signs", role: "group", "aria-label": field.label }, el("p", {}, say("live.capture.pulse_by")), ...keys);

  function said() {
    const value = standingAnswer(bed, drafts, SIGNS);
    return Array.isArray(value) ? value.map(String) : [];
  }

  /** "None seen" stands alone. @param {string} code */
  function toggle(code) {
    if (bed.wire && standingAnswer(bed, drafts, SIGNS) === undefined) return void (location.hash = caseAddress(bed.record, "capture", { wire: bed.wire, path: wirePath(bed.wire, SIGNS) }));
    const had = said();
    const others = had.filter((one) => one !== code && (code !== "none") && one !== "none");
    const next = had.includes(code) ? others : [...others, code];
    answer(bed, drafts, SIGNS, next.length ? next : null, JSON.stringify(Object.fromEntries(next.map((one) => [`:=${one}`, one]))));
  }
}
