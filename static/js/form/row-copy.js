/**
 * Copy the form of a row; each copy has names and ids of its own.
 * @param {HTMLTemplateElement} template
 * @param {string} unique
 * @returns {DocumentFragment}
 */
export function copyRow(template, unique) {
  const made = /** @type {DocumentFragment} */ (template.content.cloneNode(true));
  for (const node of made.querySelectorAll("*")) {
    for (const { name, value } of [...node.attributes]) {
      if (value.includes("__row__")) node.setAttribute(name, value.replaceAll("__row__", unique));
    }
  }
  return made;
}
