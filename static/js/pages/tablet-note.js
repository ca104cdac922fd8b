/** @import { Words } from "../types.js" */
import { say } from "../form/say.js";

/**
 * Return what there is to know, in words. Its reason may be the server's own text, or a
 * key into the user's words.
 * @param {Words} note
 * @returns {string}
 */
export function noteWords({ key, args }) {
  return say(key, "because" in args ? { ...args, because: noteText(String(args.because)) } : args);
}

/**
 * @param {string} because
 * @returns {string}
 */
export function noteText(because) {
  return say(because);
}
