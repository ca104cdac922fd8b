/**
 * Tell apart an answer that was given from one that an arrow only passes: on its way to
 * the one that is meant, an arrow chooses each. Enter and Space say that it is meant.
 * @param {HTMLElement} root a field
 * @param {() => void} onSaid
 * @returns {{isPassing: () => boolean}}
 */
export function watchArrows(root, onSaid) {
  let isPassing = false;
  root.addEventListener("keydown", (event) => {
    isPassing = event.key.startsWith("Arrow");
    if (isPick(event.target) && (event.key === "Enter" || event.key === " ")) onSaid();
  });
  root.addEventListener("pointerdown", () => void (isPassing = false), { capture: true });
  return { isPassing: () => isPassing };
}

/**
 * Tell whether an element is one answer of several.
 * @param {EventTarget | null} box
 * @returns {box is HTMLInputElement}
 */
export function isPick(box) {
  return box instanceof HTMLInputElement && (box.type === "radio" || box.type === "checkbox");
}

/**
 * Tell whether the focus leaves the answers of one question, though not its field; the
 * words of "other" belong to the answer.
 * @param {EventTarget | null} from
 * @param {Element} to
 */
export function isPast(from, to) {
  return isPick(from) && to.getAttribute("name") !== from.name && !to.matches(".choice-other");
}
