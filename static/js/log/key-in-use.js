/**
 * Hold the tablet's data key as in use by this page; waits while another page changes it.
 * A page that holds it is never kept aside by the browser to be shown again as it was.
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
export function whileUnused(tablet, change) {
  return navigator.locks.request(nameOf(tablet), { ifAvailable: true }, (lock) => (lock ? change() : null));
}

/** @param {string} tablet */
function nameOf(tablet) {
  return `${tablet}-data-key`;
}
