/** A page that was closed just now lets go a moment later. */
const LETS_GO_WITHIN_MS = 2000;

/**
 * Hold the tablet's data key as in use by this page; waits while another page changes it.
 * A browser that keeps such a page aside lets go of it once another page asks; one that is
 * shown again locks at once.
 * @param {string} tablet name of its database
 * @returns {Promise<() => void>} lets go; the end of the page does, too
 */
export function useKey(tablet) {
  return new Promise((granted, failed) => {
    const held = () => new Promise((/** @type {(value?: unknown) => void} */ resolve) => granted(() => resolve()));
    navigator.locks.request(nameOf(tablet), { mode: "shared" }, held).catch(failed);
  });
}

/**
 * Change the data key while no page uses it: one that opens meanwhile waits, and opens
 * with the new one. What a page made under the old one could be read by nobody.
 * @template T
 * @param {string} tablet
 * @param {() => Promise<T>} change
 * @returns {Promise<T | null>} null: a page uses it, and nothing was done
 */
export async function whileUnused(tablet, change) {
  const late = AbortSignal.timeout(LETS_GO_WITHIN_MS);
  try {
    return await navigator.locks.request(nameOf(tablet), { signal: late }, change);
  } catch (problem) {
    if (late.aborted && problem === late.reason) return null;
    throw problem;
  }
}

/** @param {string} tablet */
function nameOf(tablet) {
  return `${tablet}-data-key`;
}
