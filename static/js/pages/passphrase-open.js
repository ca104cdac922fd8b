/** @import { Base } from "../types.js" */
/** @import { LockTold } from "./lock-told.js" */
import { the } from "../form/dom.js";
import { say } from "../form/say.js";
import { readMeta } from "../log/meta.js";
import { countWindows, keepVault, lockVault, setPin } from "../sw-vault.js";
import { isPin, problemAt } from "./lock-form.js";
import { goFromLock, goToLock } from "./lock-way.js";
import { watchIdle } from "./tablet-idle.js";

/**
 * The page of passphrases leads to the cases without asking: left alone, it locks as they do.
 * @param {Base} base
 * @param {(told: LockTold) => void} tell
 * @returns {{used: () => void}} used: a hand was at another window
 */
export function watchOpen(base, tell) {
  keepVault();
  const onIdle = async () => {
    // Another window may show a case that runs, and knows when to lock.
    if ((await countWindows()) > 1) return goFromLock();
    if ((await lockVault(null)).state === "failed") return;
    tell("lock");
    goToLock();
  };
  const told = async () => (await readMeta(base, "settings")) ?? null;
  return watchIdle({ told, isRunning: async () => false, released: async () => {}, onIdle, onUsed: () => tell("used") });
}

/** Take a PIN for the time the browser is open, or take it away. */
export function watchPin() {
  const pin = /** @type {HTMLInputElement} */ (the("#pin"));
  const showProblem = problemAt("#pin-problem", [pin]);
  /** @param {string} digits */
  const set = async (digits) => {
    const { state } = await setPin(digits);
    if (state !== "open") return goToLock();
    pin.value = "";
    showProblem("");
    the("#state").textContent = say(digits ? "lock.done_pin" : "lock.done_pin_gone");
  };
  the("#pin-form").addEventListener("submit", (event) => {
    event.preventDefault();
    if (isPin(pin.value)) void set(pin.value);
    else showProblem(say("lock.pin_digits"));
  });
  the("#pin-none").addEventListener("click", () => void set(""));
}
