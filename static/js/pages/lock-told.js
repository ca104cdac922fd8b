const NAME = "wiremark-lock";

/** @typedef {"lock" | "open" | "rekeyed" | "used"} LockTold lock: every window locks; open: somebody unlocked; rekeyed: another data key; used: a hand is there */

/**
 * Open what the windows of one tablet tell one another of its lock.
 * @param {(told: LockTold) => void} hear what another window tells
 * @returns {(told: LockTold) => void} tells the others
 */
export function lockTold(hear) {
  const others = new BroadcastChannel(NAME);
  others.onmessage = ({ data }) => hear(data);
  return (told) => others.postMessage(told);
}
