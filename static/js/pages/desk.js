/** Keys of the desk: next and previous open question, time ruler, search. The pages work without it. */

const FIELDS = "input, textarea, select";

/**
 * Move to the next open line after (or before) the one that has focus.
 * @param {1 | -1} step
 */
function moveToOpen(step) {
  const open = /** @type {HTMLElement[]} */ ([...document.querySelectorAll(".line[data-open]")]);
  if (open.length === 0) return;
  const at = open.findIndex((line) => line.contains(document.activeElement));
  const next = open[(at + step + open.length) % open.length];
  next?.scrollIntoView({ block: "center" });
  next?.focus({ preventScroll: true });
}

/** @param {KeyboardEvent} event */
function onKey(event) {
  const target = event.target instanceof Element ? event.target : null;
  if (target?.matches(FIELDS) || event.ctrlKey || event.metaKey || event.altKey) return;
  if (event.key === "n") moveToOpen(1);
  else if (event.key === "p") moveToOpen(-1);
  else if (event.key === "t") document.querySelector(".timeline")?.scrollIntoView({ block: "start" });
  else if (event.key === "/") /** @type {HTMLElement | null} */ (document.querySelector("#q"))?.focus();
  else return;
  event.preventDefault();
}

document.addEventListener("keydown", onKey);
