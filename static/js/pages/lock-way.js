import { isStartNow } from "./tablet-route.js";

const TABLET = "/tablet/";
const LOCK = "/tablet/lock";

/**
 * Leave for the lock in a document of its own, in which nothing of a case was ever drawn.
 * Its address keeps the place, by numbers, so that unlocking leads back there. What is
 * left behind is covered at once and emptied as it goes: a browser may show it again when
 * somebody goes back.
 */
export function goToLock() {
  document.title = "Wiremark";
  document.documentElement.toggleAttribute("data-covered", true);
  addEventListener("pagehide", () => document.body.replaceChildren());
  addEventListener("pageshow", ({ persisted }) => persisted && location.reload());
  // An address that begins a case does so once, and not after somebody unlocked.
  location.replace(LOCK + (isStartNow(location.hash) ? "" : location.hash));
}

/** Go back to where it was locked, or to another place. @param {string} [hash] */
export function goFromLock(hash = location.hash) {
  location.replace(TABLET + hash);
}
