/** @import { LockSettings } from "../types-lock.js" */

const MINUTE_MS = 60_000;
const LOOK_EVERY_MS = 5000;
/** Other windows are told of a hand here no more often. */
const TELL_EVERY_MS = 10_000;
/** Until the server told the site's own. @type {LockSettings} */
const SHIPPED = { lock_after_idle_min: 5, lock_after_idle_running_min: 30 };

/**
 * Tell how long nobody touched the tablet. A clock that is put back makes it no shorter.
 * @param {() => number} clock
 * @returns {{used: () => void, ms: () => number}}
 */
function sinceUsed(clock) {
  let [at, tick] = [clock(), performance.now()];
  return {
    used: () => void ([at, tick] = [clock(), performance.now()]),
    ms: () => Math.max(clock() - at, performance.now() - tick),
  };
}

/**
 * Lock after the site's minutes without a touch or a key in any window of the tablet: more
 * of them while a case runs, never in the middle of a tap. Behind another window or with
 * its screen dark nobody looks at a case that runs: there the fewer minutes count.
 * @param {object} on
 * @param {() => Promise<LockSettings | null>} on.told the site's minutes; null: not told yet
 * @param {() => Promise<boolean>} on.isRunning a case is
 * @param {() => Promise<void>} on.released no tap is on its way
 * @param {() => Promise<void>} on.onIdle
 * @param {() => void} on.onUsed
 * @returns {{used: () => void}} used: a hand was at another window
 */
export function watchIdle({ told, isRunning, released, onIdle, onUsed }) {
  const since = sinceUsed(Date.now);
  let told_ms = -Infinity;
  let settings = SHIPPED;
  const touched = () => {
    since.used();
    if (performance.now() - told_ms < TELL_EVERY_MS) return;
    told_ms = performance.now();
    onUsed();
  };

  /** @param {boolean} wasSeen false: until this very moment nobody could look at it */
  async function look(wasSeen) {
    const { lock_after_idle_min, lock_after_idle_running_min } = (settings = (await told().catch(() => null)) ?? SHIPPED);
    if (since.ms() < lock_after_idle_min * MINUTE_MS) return;
    const isLonger = wasSeen && (await isRunning());
    const limit_min = isLonger ? lock_after_idle_running_min : lock_after_idle_min;
    await released();
    // A tap that was on its way counts.
    if (since.ms() >= limit_min * MINUTE_MS) await onIdle();
  }

  async function seen() {
    if (document.visibilityState !== "visible") return;
    // Before anything of it is painted: what is due to be locked is not shown once more.
    document.documentElement.toggleAttribute("data-covered", since.ms() >= settings.lock_after_idle_min * MINUTE_MS);
    await look(false).finally(() => document.documentElement.removeAttribute("data-covered"));
  }

  for (const kind of ["pointerdown", "pointerup", "keydown", "input", "wheel"]) addEventListener(kind, touched, { capture: true, passive: true });
  setInterval(() => void look(document.visibilityState === "visible"), LOOK_EVERY_MS);
  document.addEventListener("visibilitychange", () => void seen());
  return { used: since.used };
}
