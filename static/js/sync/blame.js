/** What was not taken is offered again after so long, while the page stays open. */
const AGAIN_MS = 10 * 60_000;

/**
 * @typedef {object} Blame Which entries are left out for now, so that none holds up the others.
 * @property {(id: string, now_ms: number) => boolean} fell the server fell over this one
 *   alone; true: and it takes others, so that the entry is to blame
 * @property {(id: string, now_ms: number) => void} refused it was read, and not taken
 * @property {(ids: Iterable<string>) => void} taken the server took something; these too
 * @property {(now_ms: number) => Set<string>} leftOut
 * @property {(now_ms: number) => Set<string>} due to be tried again, after all others
 */

/**
 * Keep account of entries that were not taken. An entry over which the server fell is
 * tried once more as soon as the server has taken anything else: a server that fails
 * altogether must not leave behind entries that nobody sends again.
 * @returns {Blame}
 */
export function openBlame() {
  /** @type {Map<string, {isProven: boolean, at_ms: number, after: number}>} */
  const left = new Map();
  let taken = 0;
  const isOut = (/** @type {string} */ id, /** @type {number} */ now_ms) => {
    const one = left.get(id);
    if (!one || now_ms - one.at_ms >= AGAIN_MS) return false;
    return one.isProven || taken === one.after;
  };
  return {
    fell(id, now_ms) {
      const before = left.get(id);
      const isProven = before !== undefined && taken > before.after;
      left.set(id, { isProven, at_ms: now_ms, after: taken });
      return isProven;
    },
    refused: (id, now_ms) => void left.set(id, { isProven: true, at_ms: now_ms, after: taken }),
    taken(ids) {
      taken += 1;
      for (const id of ids) left.delete(id);
    },
    leftOut: (now_ms) => new Set([...left.keys()].filter((id) => isOut(id, now_ms))),
    due: (now_ms) => new Set([...left.keys()].filter((id) => !isOut(id, now_ms))),
  };
}
