import { giveFocus, holdFocus } from "../form/focus.js";

/**
 * Watch every sheet that lies over a page: what it covers cannot be reached while it
 * does, and the focus goes back to where it was once it is gone.
 * @param {HTMLElement} root
 */
export function watchSheets(root) {
  /** @type {ReturnType<typeof holdFocus>} */
  let before = null;
  /** @type {Map<Element, Element[]>} */
  const covered = new Map();
  root.addEventListener("focusin", ({ target }) => {
    if (target instanceof Element && !target.closest(".sheet")) before = holdFocus(target);
  });

  /** @param {Element} sheet */
  function settle(sheet) {
    const isShown = !(/** @type {HTMLElement} */ (sheet).hidden);
    if (isShown === covered.has(sheet)) return;
    if (isShown) return cover(sheet);
    for (const one of covered.get(sheet) ?? []) one.toggleAttribute("inert", false);
    covered.delete(sheet);
    if (document.activeElement === document.body) giveFocus(before);
  }

  /** @param {Element} sheet */
  function cover(sheet) {
    const place = sheet.getBoundingClientRect();
    const beside = [...(sheet.parentElement?.children ?? [])].filter((one) => one !== sheet && !one.hasAttribute("inert"));
    const under = beside.filter((one) => meets(one.getBoundingClientRect(), place));
    for (const one of under) one.toggleAttribute("inert", true);
    covered.set(sheet, under);
  }

  const watch = new MutationObserver((told) => {
    for (const { target } of told) {
      // First: what lies under it, and what has the focus again, is told by where things stand.
      tellOpen(/** @type {Element} */ (target));
      settle(/** @type {Element} */ (target));
    }
  });
  for (const sheet of root.querySelectorAll(".sheet")) watch.observe(sheet, { attributes: true, attributeFilter: ["hidden", "data-of"] });
}

/** Name every sheet that lies over the work area, for its style. @param {Element} sheet that came or went */
function tellOpen(sheet) {
  const box = sheet.closest(".work");
  if (!box) return;
  const open = [...box.querySelectorAll(".sheet:not([hidden])")];
  if (open.length) box.setAttribute("data-sheet", open.map((one) => one.getAttribute("data-of") ?? "row").join(" "));
  else box.removeAttribute("data-sheet");
}

/** @param {DOMRect} one @param {DOMRect} other */
function meets(one, other) {
  return one.width > 0 && one.left < other.right - 1 && one.right > other.left + 1 && one.top < other.bottom - 1 && one.bottom > other.top + 1;
}
