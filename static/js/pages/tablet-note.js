/** @import { Words } from "../types.js" */
import { say } from "../form/say.js";

/** A longer reason stands with its entry, where there is room for it. */
const LONG = 80;

/**
 * Return what there is to know, in words. Its reason may be the server's own text, or a
 * key into the user's words.
 * @param {Words} note
 * @returns {string}
 */
export function noteWords({ key, args }) {
  const because = noteText(String(args.because ?? ""));
  return because.length > LONG ? say(`${key}_short`, args) : say(key, { ...args, because });
}

/**
 * @param {string} because
 * @returns {string}
 */
export function noteText(because) {
  return say(because);
}
