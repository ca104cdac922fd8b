import { openBase } from "./db.js";
import { readMeta } from "./meta.js";

/**
 * Return the zone of the hospital that a database is enrolled at. Nothing waits for it where
 * another window stands in its way.
 * @param {string} name
 * @returns {Promise<string | null>} null: none told
 */
export function zoneAt(name) {
  return new Promise((resolve) => {
    openBase({ name, onBlocked: () => resolve(null) })
      .then((base) => readMeta(base, "enrolment").finally(base.close))
      .then((enrolled) => resolve(enrolled?.zone ?? null))
      .catch(() => resolve(null));
  });
}
