const FIRST_WAIT_MS = 2_000;
const LONGEST_WAIT_MS = 60_000;

/**
 * Return how long to wait after failures: longer each time, never the same for two tablets.
 * @param {number} failures in a row, from 1
 * @param {number | null} asked_s what the server asked for
 * @param {number} [chance] 0 to 1
 * @returns {number} milliseconds
 */
export function waitMs(failures, asked_s, chance = Math.random()) {
  const longest = Math.min(LONGEST_WAIT_MS, FIRST_WAIT_MS * 2 ** (failures - 1));
  return Math.max((asked_s ?? 0) * 1000, longest * (0.5 + chance / 2));
}
