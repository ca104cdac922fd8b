/** @import { Change } from "../types.js" */

/**
 * @typedef {object} Channel Tells this page, and every other one, what changed.
 * @property {(change: Change) => void} tell
 * @property {(listener: (change: Change, isFromHere: boolean) => void) => () => void} listen returns a function that stops it
 * @property {() => void} close
 */

/**
 * Open the channel between the pages of this tablet.
 * @param {string} name
 * @returns {Channel}
 */
export function openChannel(name) {
  const others = new BroadcastChannel(name);
  /** @type {Set<(change: Change, isFromHere: boolean) => void>} */
  const listeners = new Set();
  others.onmessage = ({ data }) => listeners.forEach((listener) => listener(data, false));
  return {
    tell: (change) => {
      listeners.forEach((listener) => listener(change, true));
      others.postMessage(change);
    },
    listen: (listener) => {
      listeners.add(listener);
      return () => void listeners.delete(listener);
    },
    close: () => others.close(),
  };
}
