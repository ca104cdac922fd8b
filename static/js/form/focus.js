/** Where the focus is, told so that it is found again after the page was drawn anew. */

/** @typedef {{within: string, self: string, place: number}} Held */

const PLACED = ["data-path", "data-child", "data-entry", "data-act", "data-part", "data-person", "data-source", "href", "name", "value"];

/**
 * Tell where an element stands, by what it is for; null: nothing that can be found again.
 * @param {Element | null} held
 * @returns {Held | null}
 */
export function holdFocus(held) {
  const box = held?.closest("[id]:not(input, textarea, select)");
  if (!held || !box || held === held.ownerDocument.body) return null;
  const self = signOf(held);
  const alike = candidates(box, likelyOf(held)).filter((one) => signOf(one) === self);
  return { within: box.id, self, place: alike.findIndex((one) => one === held) };
}

/**
 * Give the focus back to what stands now where it was, in sight of who has only keys;
 * does nothing when there is none.
 * @param {Held | null} held
 */
export function giveFocus(held) {
  const box = held && document.getElementById(held.within);
  if (!held || !box) return;
  const [tag = ""] = held.self.split(" ");
  const alike = candidates(box, tag).filter((one) => signOf(one) === held.self);
  const found = alike[held.place] ?? alike.at(-1);
  found?.focus({ preventScroll: true });
  bringToSight(found ?? null);
}

/**
 * Draw, and leave the focus where it was, also where its place was drawn anew; what grew
 * above it does not push it out of sight.
 * @param {() => void} draw
 */
export function keepFocus(draw) {
  const had = document.activeElement;
  const held = holdFocus(had);
  const wasInSight = isInSight(had);
  draw();
  if (held && !had?.isConnected && document.activeElement === document.body) giveFocus(held);
  else if (wasInSight) bringToSight(document.activeElement);
}

/** @param {Element | null} one */
function bringToSight(one) {
  // A finger sees what it touches; nothing moves under it.
  if (one?.matches(":focus-visible") && !isInSight(one)) one.scrollIntoView({ block: "nearest" });
}

/** @param {Element | null} one */
function isInSight(one) {
  const page = one?.closest(".part, .sheet-body")?.getBoundingClientRect();
  if (!one || !page) return true;
  const { top, bottom } = one.getBoundingClientRect();
  return top >= page.top && bottom <= page.bottom;
}

/** @param {Element} box @param {string} which @returns {HTMLElement[]} */
function candidates(box, which) {
  return [...box.querySelectorAll(which || "*")].filter((one) => one instanceof HTMLElement);
}

/**
 * Return a selector of what may be for the same: a page holds hundreds of boxes.
 * @param {Element} one
 */
function likelyOf(one) {
  const marks = ["name", "value"].flatMap((mark) => {
    const said = one.getAttribute(mark);
    return said === null ? [] : [`[${mark}="${CSS.escape(said)}"]`];
  });
  return [one.tagName, ...marks].join("");
}

/**
 * What an element is for: its own marks and those of the field and row it stands in.
 * @param {Element} one
 */
function signOf(one) {
  const path = one.closest("[data-path]")?.getAttribute("data-path") ?? "";
  const row = one.closest("[data-entry]")?.getAttribute("data-entry") ?? "";
  const own = PLACED.map((name) => one.getAttribute(name) ?? "");
  return [one.tagName, path, row, ...own].join(" ");
}
