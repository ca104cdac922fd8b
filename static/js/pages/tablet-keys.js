import { key, the } from "../form/dom.js";
import { say } from "../form/say.js";

/**
 * Return the key at the head of a part that leads to the rail, past all its fields; it
 * is seen only by who comes to it with Tab.
 */
export function skipKey() {
  return key(say("case.to_parts"), toParts, { class: "key skip", "data-act": "to-parts" });
}

/** Where the parts are picked from a list, the list opens. */
function toParts() {
  const rail = the("#rail");
  const picker = the(".rail-picker", rail);
  if (picker.offsetParent) picker.focus();
  else the(".stop[aria-current], .stop", rail).focus();
}

/**
 * Let Escape lead back to the head of the part from any of its fields, where nothing
 * is open that it would close.
 * @param {HTMLElement} page
 */
export function escapeToHead(page) {
  page.addEventListener("keydown", (event) => {
    const part = event.target instanceof Element ? event.target.closest(".part") : null;
    if (event.key !== "Escape" || event.defaultPrevented || !(part instanceof HTMLElement)) return;
    part.focus({ preventScroll: true });
  });
}
