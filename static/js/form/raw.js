import { repaint } from "./sketch.js";

/** Text and choices that are not an entry yet, as one text and back. */

/**
 * Return what a person has typed and chosen in a field, as one text.
 * @param {HTMLElement} root
 * @returns {string}
 */
export function rawOf(root) {
  const boxes = [...boxesOf(root)];
  return JSON.stringify(Object.fromEntries(boxes.filter(isSaying).map((box) => [keyOf(box, root), box.value])));
}

/**
 * Put unfinished text back where it was typed.
 * @param {HTMLElement} root
 * @param {string} raw
 * @returns {boolean} false: it is not a draft of this field
 */
export function restoreRaw(root, raw) {
  /** @type {{[key: string]: string}} */
  let said;
  try {
    said = JSON.parse(raw);
  } catch {
    return false;
  }
  for (const box of boxesOf(root)) {
    const text = said[keyOf(box, root)];
    if (isPick(box)) box.checked = text === box.value;
    else if (text !== undefined) box.value = text;
  }
  for (const canvas of root.querySelectorAll("canvas")) if (canvas.parentElement) repaint(canvas.parentElement);
  return true;
}

/** @param {HTMLElement} root @returns {NodeListOf<HTMLInputElement>} */
function boxesOf(root) {
  return root.querySelectorAll("input:not([type='file']), textarea, select");
}

/** @param {HTMLInputElement} box */
function isSaying(box) {
  return isPick(box) ? box.checked : box.value !== "";
}

/** @param {HTMLInputElement} box */
function isPick(box) {
  return box.type === "radio" || box.type === "checkbox";
}

/**
 * Names differ from one row form to the next; what a box is called within its field
 * does not.
 * @param {HTMLInputElement} box
 * @param {HTMLElement} root
 */
function keyOf(box, root) {
  const field = /** @type {HTMLElement | null} */ (box.closest(".field"));
  const place = field && field !== root ? (field.dataset.child ?? "") : "";
  const own = isPick(box) ? `=${box.value}` : box.className.split(" ").at(-1) || box.name.split(".").at(-1);
  return `${place}:${own}`;
}
