/**
 * Making one costs more than all it does.
 * @type {Map<string, Intl.DateTimeFormat>}
 */
const formats = new Map();

/**
 * Write an instant with the zone's offset at that instant.
 * @param {number} ms Unix milliseconds
 * @param {string} zone IANA name
 * @returns {{utc: string, zone: string, offset_min: number}}
 */
export function stamp(ms, zone) {
  return { utc: new Date(ms).toISOString(), zone, offset_min: offsetMin(ms, zone) };
}

/**
 * Return the value of an exact moment read off this tablet's clock.
 * @param {number} ms
 * @param {string} zone
 * @returns {{utc: string, zone: string, offset_min: number, certainty: "exact", clock: "tablet"}}
 */
export function exactMoment(ms, zone) {
  return { ...stamp(ms, zone), certainty: "exact", clock: "tablet" };
}

/**
 * Return how many minutes the zone's wall clock is ahead of UTC at an instant.
 * @param {number} ms
 * @param {string} zone
 * @returns {number}
 */
export function offsetMin(ms, zone) {
  const parts = Object.fromEntries(formatOf(zone).formatToParts(ms).map(({ type, value }) => [type, Number(value)]));
  const wall = Date.UTC(parts.year, parts.month - 1, parts.day, parts.hour, parts.minute, parts.second);
  return Math.round((wall - ms) / 60000);
}

/**
 * @param {string} zone
 * @returns {Intl.DateTimeFormat}
 */
function formatOf(zone) {
  const made = formats.get(zone) ?? new Intl.DateTimeFormat("en-GB", {
    timeZone: zone, hourCycle: "h23",
    year: "numeric", month: "numeric", day: "numeric", hour: "numeric", minute: "numeric", second: "numeric",
  });
  formats.set(zone, made);
  return made;
}

/**
 * Return the zone this browser is set to.
 * @returns {string}
 */
export function browserZone() {
  return Intl.DateTimeFormat().resolvedOptions().timeZone;
}
