/** @import { FieldSpec } from "../types-form.js" */
import { key } from "./dom.js";

/** Wires, poles, passes are counted, and seldom further than this. */
const COUNTS = ["1", "2", "3"];

/**
 * Put keys for small counts beside a number that counts things: it has no unit and goes by
 * ones. Any other number is keyed in as ever; no key is an answer until it is tapped.
 * @param {HTMLElement} controls of a quantity
 * @param {FieldSpec} field
 * @param {() => void} onTap after the number was written
 */
export function bindCountKeys(controls, field, onTap) {
  if (field.units.length || field.step !== "1") return;
  const box = /** @type {HTMLInputElement} */ (controls.querySelector(".qty"));
  const write = (/** @type {string} */ count) => {
    box.value = count;
    box.dispatchEvent(new Event("input", { bubbles: true }));
    onTap();
  };
  box.after(...COUNTS.map((count) => key(count, () => write(count), { "data-count": count, "aria-label": `${count}: ${field.label}` })));
}
