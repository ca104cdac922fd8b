import { fill } from "./dom.js";

/** @type {WeakMap<Element, number>} how often a key came to say something else */
const times = new WeakMap();

/**
 * Put `children` in place of what an element holds, as `fill` does; a key of the same act
 * stays and takes over what it says and does. It keeps the focus, and the page is not laid
 * out twice to give it back. For keys that nothing but their tap is bound to.
 * @param {Element} at
 * @param {...(Element | null)} children
 */
export function fillInPlace(at, ...children) {
  const next = children.filter((child) => child !== null);
  const shown = [...at.children];
  if (next.length !== shown.length || at.childNodes.length !== shown.length) return fill(at, ...next);
  next.forEach((made, place) => {
    const old = shown[place];
    if (old.isEqualNode(made)) return;
    if (isSameKey(old, made)) takeOver(old, made);
    else old.replaceWith(made);
  });
}

/**
 * Return how often a key has come to say something else: a second tap on it is one on
 * another key then, no tremble.
 * @param {Element} key
 */
export function timesChanged(key) {
  return times.get(key) ?? 0;
}

/** @param {Element} old @param {Element} made @returns {made is HTMLButtonElement} */
function isSameKey(old, made) {
  const act = made.getAttribute("data-act");
  return made instanceof HTMLButtonElement && old instanceof HTMLButtonElement && act !== null && act === old.getAttribute("data-act");
}

/** @param {Element} old @param {HTMLButtonElement} made */
function takeOver(old, made) {
  for (const { name } of [...old.attributes]) if (!made.hasAttribute(name)) old.removeAttribute(name);
  for (const { name, value } of made.attributes) if (old.getAttribute(name) !== value) old.setAttribute(name, value);
  /** @type {HTMLButtonElement} */ (old).onclick = made.onclick;
  fill(old, ...made.childNodes);
  times.set(old, timesChanged(old) + 1);
}
