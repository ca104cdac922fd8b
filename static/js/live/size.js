/** @type {WeakMap<Element, {width: number, height: number}>} */
const sizes = new WeakMap();

/**
 * Return how large a box is, px. Asking the box itself makes the browser lay out the page
 * before it is drawn whole; so it is asked once, and told of each change.
 * @param {HTMLElement} box
 * @param {() => void} onChange
 * @returns {{width: number, height: number}}
 */
export function sizeOf(box, onChange) {
  const known = sizes.get(box);
  if (known?.width && known.height) return known;
  if (!known) observe(box, onChange);
  return measured(box);
}

/**
 * @param {HTMLElement} box
 * @param {() => void} onChange
 */
function observe(box, onChange) {
  new ResizeObserver(() => {
    const before = sizes.get(box);
    // Of a page that is hidden nothing is known; it has its size again when it is shown.
    if (!box.clientWidth || !box.clientHeight) return;
    const { width, height } = measured(box);
    if (width !== before?.width || height !== before.height) onChange();
  }).observe(box);
}

/** @param {HTMLElement} box */
function measured(box) {
  const size = { width: box.clientWidth, height: box.clientHeight };
  sizes.set(box, size);
  return size;
}
