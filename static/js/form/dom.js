import { apart } from "./apart.js";

const SVG = "http://www.w3.org/2000/svg";

/** @typedef {Node | string | null | undefined | false} Child */
/** @typedef {{[name: string]: string | number | boolean | null | undefined}} Attributes */

/**
 * Make an element. Text is only ever set as text, never read as markup, and turns
 * nothing that stands beside it round.
 * @template {keyof HTMLElementTagNameMap} T
 * @param {T} tag
 * @param {Attributes} [attributes] false, null and undefined leave one out
 * @param {...Child} children
 * @returns {HTMLElementTagNameMap[T]}
 */
export function el(tag, attributes = {}, ...children) {
  const made = document.createElement(tag);
  setAll(made, attributes);
  made.append(...children.filter(isNode).map(kept));
  return made;
}

/**
 * Make an SVG element.
 * @template {keyof SVGElementTagNameMap} T
 * @param {T} tag
 * @param {Attributes} [attributes]
 * @param {...Child} children
 * @returns {SVGElementTagNameMap[T]}
 */
export function svg(tag, attributes = {}, ...children) {
  const made = /** @type {SVGElementTagNameMap[T]} */ (document.createElementNS(SVG, tag));
  setAll(made, attributes);
  made.append(...children.filter(isNode).map(kept));
  return made;
}

/**
 * Make a key: a button that never submits.
 * @param {string} text
 * @param {() => void} onTap
 * @param {Attributes} [attributes]
 * @returns {HTMLButtonElement}
 */
export function key(text, onTap, attributes = {}) {
  const made = el("button", { type: "button", class: "key", ...attributes }, text);
  made.onclick = onTap;
  return made;
}

/**
 * Put `children` in place of what an element holds. A child that says the same already
 * stays: it must not blink, lose the focus, nor be read out again.
 * @param {Element} at
 * @param {...Child} children
 */
export function fill(at, ...children) {
  const made = document.createDocumentFragment();
  made.append(...children.filter(isNode).map(kept));
  const [next, shown] = [[...made.childNodes], [...at.childNodes]];
  next.forEach((child, place) => {
    const old = shown[place];
    if (!old) at.append(child);
    else if (!old.isEqualNode(child)) old.replaceWith(child);
  });
  for (const old of shown.slice(next.length)) old.remove();
}

/**
 * Return the one element that a page must hold.
 * @template {HTMLElement} [T=HTMLElement]
 * @param {string} selector
 * @param {ParentNode} [within]
 * @returns {T}
 * @throws {Error} when it is not there
 */
export function the(selector, within = document) {
  const found = within.querySelector(selector);
  if (!found) throw new Error(`the page holds no ${selector}`);
  return /** @type {T} */ (found);
}

/**
 * @param {Element} made
 * @param {Attributes} attributes
 */
function setAll(made, attributes) {
  for (const [name, value] of Object.entries(attributes)) {
    if (value === false || value === null || value === undefined) continue;
    made.setAttribute(name, value === true ? "" : String(value));
  }
}

/**
 * @param {Child} child
 * @returns {child is Node | string}
 */
function isNode(child) {
  return child !== null && child !== undefined && child !== false && child !== "";
}

/**
 * @param {Node | string} child
 * @returns {Node | string}
 */
function kept(child) {
  return typeof child === "string" ? apart(child) : child;
}
