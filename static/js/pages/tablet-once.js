import { StoreProblem } from "../log/problem.js";

/**
 * Run a drawing never twice at a time, and once more when asked meanwhile.
 * @param {() => Promise<void>} work
 * @returns {() => Promise<void>}
 */
export function once(work) {
  /** @type {Promise<void> | null} */
  let running = null;
  let again = false;
  return function draw() {
    if (running) {
      again = true;
      return running;
    }
    running = (async () => {
      do {
        again = false;
        // A log that cannot be read leaves the screen as it stands; the next tick asks again.
        await work().catch(unlessStore);
      } while (again);
    })().finally(() => (running = null));
    return running;
  };
}

/** @param {unknown} error */
function unlessStore(error) {
  if (!(error instanceof StoreProblem)) throw error;
}
