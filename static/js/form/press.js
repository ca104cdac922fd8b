/** ms: one whose end is never told, because it left the window, holds nothing for longer */
const LONGEST_MS = 3000;

/**
 * Watch presses. What is drawn anew between press and release is another key: the tap is
 * lost, or goes to what came in its place. An answer that is kept as its field is left, or an
 * entry that arrives, would do so.
 * @param {Window} page
 * @returns {() => Promise<void>} resolves at once while nothing is pressed, else after the tap
 */
export function watchPress(page) {
  /** @type {Promise<void> | null} */
  let pressed = null;
  let end = () => {};
  page.addEventListener("pointerdown", () => {
    end();
    pressed = new Promise((resolve) => {
      const late = setTimeout(() => end(), LONGEST_MS);
      end = () => {
        clearTimeout(late);
        pressed = null;
        resolve();
      };
    });
  }, true);
  // A mouse's click comes in the same task as its release: this is told after it.
  const after = new MessageChannel();
  after.port1.onmessage = () => end();
  const release = () => after.port2.postMessage(null);
  page.addEventListener("pointerup", release, true);
  page.addEventListener("pointercancel", release, true);
  // Of the window itself, not of a field within it.
  page.addEventListener("blur", ({ target }) => target === page && release());
  return async () => {
    while (pressed) await pressed;
  };
}
