import { the } from "../form/dom.js";

/**
 * Tell whether this can be a PIN.
 * @param {string} typed
 */
export function isPin(typed) {
  return /^\d{4,8}$/.test(typed);
}

/**
 * Return what says in one place what is wrong with these fields; "" when nothing is.
 * @param {string} place
 * @param {HTMLInputElement[]} fields
 * @returns {(text: string) => void}
 */
export function problemAt(place, fields) {
  return (text) => {
    the(place).textContent = text;
    for (const field of fields) field.setAttribute("aria-invalid", String(text !== ""));
  };
}

/**
 * Let what is typed blindly be read while a box is ticked.
 * @param {HTMLElement} box
 * @param {HTMLInputElement[]} fields
 */
export function mayShow(box, fields) {
  box.addEventListener("change", () => {
    const isShown = /** @type {HTMLInputElement} */ (box).checked;
    for (const field of fields) field.type = isShown ? "text" : "password";
  });
}
