/** @import { Store } from "../types.js" */
import { ifFree } from "../log/lock.js";
import { newPhotoCourse, photoOnce } from "./photos.js";
import { waitMs } from "./wait.js";

/** Another page sends: it may have looked before the last photo was there. */
const AFTER_ANOTHER_MS = 800;

/**
 * @typedef {object} PhotoLoop
 * @property {(heard: {isBack: boolean, isOlder: boolean}) => void} soon every entry is answered
 *   for; isBack: the server was away before; isOlder: it lost what it held
 * @property {() => Promise<void>} now send what waits; resolves when nothing more can be done
 * @property {() => void} stop
 */

/**
 * Send photos in the background, beside the entries and never before them. One page of
 * the tablet at a time.
 * @param {Store} store
 * @returns {PhotoLoop}
 */
export function startPhotos(store) {
  const course = newPhotoCourse();
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let timer;
  /** @type {Promise<void> | null} */
  let running = null;
  let [isStopped, isMore, isMine] = [false, false, true];

  async function round() {
    isMine = await ifFree("wiremark-photos", async () => {
      while (!isStopped && (await photoOnce(store, course)));
    });
  }

  /** @returns {Promise<void>} */
  function now() {
    running ??= round()
      // The store itself may be what failed; the next round tries again.
      .catch(() => void (course.failures += 1))
      .finally(() => {
        running = null;
        if (course.failures) plan(waitMs(course.failures, course.wait_s));
        else if (!isMine) plan(AFTER_ANOTHER_MS);
        else if (isMore) plan(0);
        isMore = false;
      });
    return running;
  }

  /** @param {number} ms */
  function plan(ms) {
    clearTimeout(timer);
    if (!isStopped) timer = setTimeout(now, ms);
  }

  return {
    now,
    soon({ isBack, isOlder }) {
      if (isOlder) course.mustAsk = true;
      if (isBack) course.failures = 0;
      if (running) isMore = true;
      // While the server does not take photos, entries do not make it be asked more often.
      else if (!course.failures) plan(0);
    },
    stop() {
      isStopped = true;
      clearTimeout(timer);
    },
  };
}
