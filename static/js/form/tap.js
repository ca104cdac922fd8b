import { timesChanged } from "./in-place.js";

const SECOND_TAP_MS = 400;
/** So long, and so near, a tap was meant for what stood in this place before. */
const [MEANT_MS, MEANT_PX] = [1000, 40];

/**
 * Ignore a second tap on the same key within 400 ms, none on another key between: a
 * trembling hand, not an answer. On a keypad it is a digit twice: 110 is no 10. Nor is a
 * receipt's key struck by the second of two taps on one place: it came under the finger.
 * @param {HTMLElement} root
 */
export function ignoreSecondTap(root) {
  const none = { on: null, times: 0, at: -MEANT_MS, x: 0, y: 0 };
  /** @type {{on: Element | null, times: number, at: number, x: number, y: number}} */
  let last = none;
  // Nobody goes to another page and back within a tremble.
  addEventListener("hashchange", () => (last = none));
  root.addEventListener(
    "click",
    (event) => {
      const on = event.target instanceof Element ? event.target.closest(".choice, .key") : null;
      // detail 0: a keyboard or a script, which does not tremble.
      if (!on || event.detail === 0) return;
      const since = event.timeStamp - last.at;
      const isSame = on === last.on && timesChanged(on) === last.times;
      const isTremble = isSame && since < SECOND_TAP_MS && !on.closest(".keypad, .cap-pad, [data-asked='digits']");
      const isNear = Math.hypot(event.clientX - last.x, event.clientY - last.y) < MEANT_PX;
      const isUnder = !isSame && isNear && since < MEANT_MS && on.closest("#kept") !== null;
      if (isTremble || isUnder) {
        event.preventDefault();
        event.stopPropagation();
        return;
      }
      last = { on, times: timesChanged(on), at: event.timeStamp, x: event.clientX, y: event.clientY };
    },
    true,
  );
}
