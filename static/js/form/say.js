import { apart } from "./apart.js";

/** @type {{[key: string]: string}} */
let texts = {};

/**
 * Take the user's words out of the catalogue; `say` knows none before.
 * @param {{[key: string]: string}} given
 */
export function setWords(given) {
  texts = given;
}

/**
 * Return a user's text, its {names} filled in; what was typed turns nothing beside it
 * round. An unknown key stands as itself, so that a missing word never stops a case.
 * @param {string} key
 * @param {{[name: string]: string | number}} [values]
 * @returns {string}
 */
export function say(key, values = {}) {
  const text = texts[key] ?? key;
  return text.replace(/\{(\w+)\}/g, (whole, name) => apart(String(values[name] ?? whole)));
}

/**
 * Return every word by its key, for what is handed the whole table.
 * @returns {Readonly<{[key: string]: string}>}
 */
export function allWords() {
  return texts;
}
