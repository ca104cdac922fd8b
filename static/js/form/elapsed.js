/** How long ago, in words that never look like a time of day. */

import { say } from "./say.js";

const HOUR_S = 3600;
const DAY_S = 86_400;

/**
 * Return "just now", "40 s", "4 min", "1 h 45 min", "3 d": whole units, cut off. A time
 * ahead of this clock by 20 s or more is said to be so.
 * @param {number} seconds whole
 * @returns {string}
 */
export function elapsedWords(seconds) {
  if (seconds <= -20) return say("words.ago_ahead");
  if (seconds < 20) return say("words.ago_just_now");
  if (seconds < 60) return say("words.ago_seconds", { seconds });
  const minutes = Math.floor(seconds / 60);
  if (minutes < 100) return say("words.ago_minutes", { minutes });
  if (seconds >= 2 * DAY_S) return say("words.ago_days", { days: Math.floor(seconds / DAY_S) });
  const hours = Math.floor(seconds / HOUR_S);
  const rest = minutes % 60;
  return rest === 0 ? say("words.ago_hours", { hours }) : say("words.ago_hours_minutes", { hours, minutes: rest });
}
