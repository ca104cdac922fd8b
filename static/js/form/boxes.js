/** What a tap or a letter in one box of a field does to another. */

/**
 * A text beside a way of giving no answer chooses it.
 * @param {HTMLInputElement} box
 */
export function choose(box) {
  const radio = /** @type {HTMLInputElement | null} */ (box.closest(".more-line")?.querySelector("input[type='radio']") ?? null);
  if (radio && box.value) radio.checked = true;
}

/**
 * A choice that wants words takes the hand to them.
 * @param {HTMLInputElement} box
 */
export function focusOther(box) {
  const other = box.parentElement?.nextElementSibling;
  if (box.checked && other instanceof HTMLElement && other.matches(".choice-other")) other.focus();
}
