/**
 * Run work that nobody waits for once the page has nothing else to do.
 * @param {() => void} work
 */
export function whenIdle(work) {
  if (typeof requestIdleCallback === "function") requestIdleCallback(() => work());
  else setTimeout(work);
}

/** Resolves once the page has nothing else to do. @returns {Promise<void>} */
export function idle() {
  return new Promise((resolve) => whenIdle(resolve));
}
