/** @typedef {{record: string, part: string, wire: string | null, path: string | null}} Route record "": Start */

/** The address that begins a case at once, from the lock. */
export const START_NOW = "#/start-now";

/** @param {string} hash */
export function isStartNow(hash) {
  return hash === START_NOW;
}

/** The part of an address that shows the case from afar. */
export const FAR = "far";
const FAR_PLACE = /^#\/far(?:\/([0-9a-f-]{36})(?:\/([0-9a-f-]{36}))?)?$/;
const PLACE = /^#\/case\/([0-9a-f-]{36})(?:\/(\w+))?(?:\/([0-9a-f-]{36}))?(?:\?at=(.+))?$/;

/**
 * Read where the page stands from its address: nothing else remembers it.
 * @param {string} hash
 * @returns {Route}
 */
export function routeOf(hash) {
  const far = FAR_PLACE.exec(hash);
  if (far) return { record: far[1] ?? "", part: FAR, wire: far[2] ?? null, path: null };
  const found = PLACE.exec(hash);
  if (!found) return { record: "", part: "", wire: null, path: null };
  const [, record = "", part = "patient", wire, path] = found;
  return { record, part, wire: wire ?? null, path: path ? decoded(path) : null };
}

/**
 * Tell whether an address is meant to name a case, however it was cut or mistyped.
 * @param {string} hash
 */
export function isCaseAddress(hash) {
  return hash.startsWith("#/case");
}

/**
 * An address cut in the middle of a sign names no field; it still opens the case.
 * @param {string} text
 * @returns {string | null}
 */
function decoded(text) {
  try {
    return decodeURIComponent(text);
  } catch {
    return null;
  }
}

/**
 * Write the address of a part of a case, or of one field in it.
 * @param {string} record
 * @param {string} part
 * @param {{wire?: string | null, path?: string}} [place]
 * @returns {string}
 */
export function caseAddress(record, part, { wire = null, path } = {}) {
  const at = path ? `?at=${encodeURIComponent(path)}` : "";
  return `#/case/${record}/${part}${wire ? `/${wire}` : ""}${at}`;
}

/**
 * Write the address of a case as it is seen from afar.
 * @param {string} record
 * @param {string | null} [wire]
 */
export function farAddress(record, wire = null) {
  return `#/${FAR}/${record}${wire ? `/${wire}` : ""}`;
}
