/** @import { Store } from "../types.js" */
import { ifFree } from "../log/lock.js";
import { loadCatalogue } from "./catalogue.js";
import { startPhotos } from "./photo-loop.js";
import { exchangeOnce, newCourse } from "./round.js";
import { waitMs } from "./wait.js";

const AFTER_ENTRY_MS = 800;
const IDLE_MS = 30_000;

/**
 * Keep this tablet and the server alike, in the background, asking nothing of anyone:
 * at the start, when the page is seen again, when a network appears, after entries, and
 * every half minute. One page of the tablet at a time. Photos follow when all entries
 * are answered for, beside what is entered meanwhile.
 * @param {Store} store
 * @returns {{stop: () => void, now: () => Promise<void>, photos: () => Promise<void>}} now: runs
 *   a round at once; photos: sends what waits of them
 */
export function startSync(store) {
  const course = newCourse();
  const photos = startPhotos(store);
  const stopping = new AbortController();
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let timer;
  /** @type {Promise<void> | null} */
  let running = null;
  let [catalogue, isMore, isAsked] = [0, false, false];

  async function round() {
    catalogue ||= await catalogueVersion();
    const { failures, allBacks } = course;
    const isMine = await ifFree("wiremark-sync", async () => {
      while (!stopping.signal.aborted && (await exchangeOnce(store, course, catalogue)));
    });
    // Another page sends; it may have looked before the last entry was there.
    if (!isMine) isMore = true;
    if (!course.failures) photos.soon({ isBack: failures > 0, isOlder: course.allBacks > allBacks });
  }

  /** @returns {Promise<void>} */
  function now() {
    running ??= round()
      .catch((error) => failed(error))
      .finally(() => {
        running = null;
        plan(nextIn());
        isMore = isAsked = false;
      });
    return running;
  }

  function nextIn() {
    if (isAsked) return 0;
    if (course.failures) return waitMs(course.failures, course.wait_s);
    return isMore ? AFTER_ENTRY_MS : IDLE_MS;
  }

  /** @param {unknown} error */
  async function failed(error) {
    course.failures += 1;
    // The store itself may be what failed; the next round tries again.
    await store.wire.fail("fault", String(error)).catch(() => {});
  }

  /** @param {number} ms */
  function plan(ms) {
    clearTimeout(timer);
    if (!stopping.signal.aborted) timer = setTimeout(now, ms);
  }

  /** What runs may have begun before the network was there: another round follows it. */
  function soon() {
    if (running) isAsked = true;
    else plan(0);
  }

  const { signal } = stopping;
  addEventListener("online", soon, { signal });
  addEventListener("pageshow", soon, { signal });
  document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && soon(), { signal });
  const unlisten = store.onChange((change, isFromHere) => {
    if (change.what === "asked" && isFromHere) return soon();
    if (change.what !== "record" || !change.isWritten || !isFromHere) return;
    // While the server does not answer, entries do not make it be asked more often.
    if (running) isMore = true;
    else if (!course.failures) plan(AFTER_ENTRY_MS);
  });
  if (!store.older) soon();
  return {
    now,
    photos: photos.now,
    stop: () => {
      stopping.abort();
      photos.stop();
      clearTimeout(timer);
      unlisten();
    },
  };
}

/** @returns {Promise<number>} 0 when the shell is incomplete */
async function catalogueVersion() {
  return loadCatalogue().then(({ version }) => version, () => 0);
}
