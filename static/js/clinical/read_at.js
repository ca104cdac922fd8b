export const AT_HUB = "sheath_hub";
/** Somebody said that it is not known: no blank, and not the hub. */
const NOT_KNOWN = "not_known";

/**
 * Return the reference point of a depth as kept; "sheath_hub" where blank.
 * @param {{[child: string]: any}} value any: as kept
 * @returns {string}
 */
export function readAt(value) {
  const told = value.read_at ?? null;
  if (typeof told === "string") return told || AT_HUB;
  return told === null ? AT_HUB : NOT_KNOWN;
}
