/** Keys of the coding desk: next and previous flag, other view, hand out. The page works without it. */

const FIELDS = "input, textarea, select";

/** @returns {HTMLElement[]} */
function flags() {
  return [...document.querySelectorAll(".flag")].filter((flag) => flag instanceof HTMLElement);
}

/**
 * Show why one flag stands, and underline the facts it rests on.
 * @param {HTMLElement} flag
 */
function pick(flag) {
  const number = flag.dataset["flag"];
  for (const shown of document.querySelectorAll("[data-picked]")) shown.removeAttribute("data-picked");
  flag.setAttribute("data-picked", "");
  document.querySelector(`[data-why="${number}"]`)?.setAttribute("data-picked", "");
  light(flag.dataset["evidence"] ?? "");
}

/** @param {string} evidence entry ids with a space between */
function light(evidence) {
  const wanted = new Set(evidence.split(" ").filter((id) => id !== ""));
  for (const told of document.querySelectorAll(".told")) {
    const own = told instanceof HTMLElement ? (told.dataset["entries"] ?? "").split(" ") : [];
    told.toggleAttribute("data-lit", own.some((id) => wanted.has(id)));
  }
}

/**
 * Go to the flag after (or before) the picked one.
 * @param {1 | -1} step
 */
function move(step) {
  const all = flags();
  const at = all.findIndex((flag) => flag.hasAttribute("data-picked"));
  const next = all[(at + step + all.length) % all.length];
  if (!next) return;
  pick(next);
  next.focus({ preventScroll: true });
  next.scrollIntoView({ block: "nearest" });
}

function otherView() {
  const views = [...document.querySelectorAll("[data-view]")];
  const at = views.findIndex((view) => view.hasAttribute("aria-current"));
  const next = views[(at + 1) % views.length];
  if (next instanceof HTMLAnchorElement) next.click();
}

function handOut() {
  const key = document.querySelector("[data-hand]");
  if (key instanceof HTMLAnchorElement) key.click();
}

/** @param {KeyboardEvent} event */
function onKey(event) {
  const target = event.target instanceof Element ? event.target : null;
  if (target?.matches(FIELDS) || event.ctrlKey || event.metaKey || event.altKey) return;
  if (event.key === "j") move(1);
  else if (event.key === "k") move(-1);
  else if (event.key === "v") otherView();
  else if (event.key === "h") handOut();
  else return;
  event.preventDefault();
}

/** @param {Event} event */
function onClick(event) {
  const flag = event.target instanceof Element ? event.target.closest(".flag") : null;
  if (!(flag instanceof HTMLElement)) return;
  event.preventDefault();
  pick(flag);
}

document.documentElement.setAttribute("data-keys", "");
document.addEventListener("keydown", onKey);
document.addEventListener("click", onClick);
const first = flags()[0];
if (first) pick(first);
