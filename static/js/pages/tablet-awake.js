import { routeOf } from "./tablet-route.js";

/** Below this share the battery is told of; ux.md section 10. */
const LOW_BATTERY = 0.15;

/**
 * Keep the screen lit while a case is in view, where the browser can: nobody at a wire has
 * a hand to wake it. A lock ends with each look away, and is asked for anew.
 */
export function stayAwake() {
  /** @type {WakeLockSentinel | null} */
  let held = null;
  let isAsking = false;

  async function settle() {
    const isWanted = document.visibilityState === "visible" && routeOf(location.hash).record !== "";
    if (!isWanted) {
      const before = held;
      held = null;
      return before?.release();
    }
    if (isAsking || (held && !held.released)) return;
    isAsking = true;
    // Refused on a low battery, or by the system: the case goes on without.
    held = await navigator.wakeLock.request("screen").catch(() => null);
    isAsking = false;
  }

  if (!("wakeLock" in navigator)) return;
  for (const kind of ["visibilitychange", "hashchange"]) (kind === "hashchange" ? window : document).addEventListener(kind, () => void settle());
  void settle();
}

/**
 * @typedef {{level: number, charging: boolean, addEventListener: (kind: string, onChange: () => void) => void}} Battery
 */

/**
 * Return what adds the battery to what there is to know, where the browser tells of it.
 * @param {() => void} onChange
 * @returns {(status: import("../types.js").Status) => import("../types.js").Status}
 */
export function watchBattery(onChange) {
  /** @type {Battery | null} */
  let battery = null;
  const told = /** @type {{getBattery?: () => Promise<Battery>}} */ (/** @type {unknown} */ (navigator)).getBattery?.();
  told?.then((found) => {
    battery = found;
    for (const kind of ["levelchange", "chargingchange"]) found.addEventListener(kind, onChange);
    onChange();
  }).catch(() => {});
  return (status) => {
    if (!battery || battery.charging || battery.level >= LOW_BATTERY) return status;
    const percent = Math.round(battery.level * 100);
    return { ...status, notes: [{ key: "strip.battery_low", args: { percent } }, ...status.notes] };
  };
}
