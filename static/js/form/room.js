/**
 * Tell whether what lies under a key would end below its page, and has more room above.
 * @param {HTMLElement} panel
 * @param {HTMLElement} key
 */
export function isLowIn(panel, key) {
  const page = (panel.closest(".part, .sheet-body") ?? panel.ownerDocument.documentElement).getBoundingClientRect();
  const place = key.getBoundingClientRect();
  const below = page.bottom - place.bottom;
  return panel.offsetHeight > below && place.top - page.top > below;
}

const GAP_PX = 4;

/**
 * Put what lies over everything beside a box: under it, else above, always between the
 * standing row and the receipts. Where neither has room the page scrolls the box down.
 * @param {HTMLElement} panel in the top layer
 * @param {HTMLElement} box
 */
export function placeBeside(panel, box) {
  const area = (box.closest(".work") ?? box.ownerDocument.documentElement).getBoundingClientRect();
  const [width, height] = [panel.offsetWidth + GAP_PX, panel.offsetHeight + GAP_PX];
  const lacking = height - Math.max(area.bottom - box.getBoundingClientRect().bottom, box.getBoundingClientRect().top - area.top);
  const page = box.closest(".part, .sheet-body");
  if (page && lacking > 0) page.scrollTop -= height - (box.getBoundingClientRect().top - area.top);
  const place = box.getBoundingClientRect();
  const isBelow = height <= area.bottom - place.bottom;
  const top = isBelow ? place.bottom + GAP_PX : Math.max(area.top, place.top - height);
  panel.style.top = `${top}px`;
  panel.style.left = `${Math.max(area.left, Math.min(place.left, area.right - width))}px`;
}
