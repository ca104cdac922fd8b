const SECOND_TAP_MS = 400;

/**
 * Ignore a second tap on the same key within 400 ms, none on another key between: a
 * trembling hand, not an answer. On a keypad it is a digit twice: 110 is no 10.
 * @param {HTMLElement} root
 */
export function ignoreSecondTap(root) {
  /** @type {{on: Element | null, at: number}} */
  let last = { on: null, at: -SECOND_TAP_MS };
  // Nobody goes to another page and back within a tremble.
  addEventListener("hashchange", () => (last = { on: null, at: -SECOND_TAP_MS }));
  root.addEventListener(
    "click",
    (event) => {
      const on = event.target instanceof Element ? event.target.closest(".choice, .key") : null;
      // detail 0: a keyboard or a script, which does not tremble.
      if (!on || event.detail === 0) return;
      if (on === last.on && event.timeStamp - last.at < SECOND_TAP_MS && !on.closest(".keypad, [data-asked='digits']")) {
        event.preventDefault();
        event.stopPropagation();
        return;
      }
      last = { on, at: event.timeStamp };
    },
    true,
  );
}
