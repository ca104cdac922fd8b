/**
 * Make a UUIDv7: 48 bits of Unix milliseconds, then random. RFC 9562, section 5.7.
 * @param {number} [now_ms]
 * @param {Uint8Array} [random] ten bytes
 * @returns {string} lower case
 */
export function uuid7(now_ms = Date.now(), random = crypto.getRandomValues(new Uint8Array(10))) {
  const tail = Uint8Array.from(random);
  tail[0] = 0x70 | (tail[0] & 0x0f);
  tail[2] = 0x80 | (tail[2] & 0x3f);
  const time = Math.floor(now_ms).toString(16).padStart(12, "0");
  const text = time + Array.from(tail, (b) => b.toString(16).padStart(2, "0")).join("");
  return [text.slice(0, 8), text.slice(8, 12), text.slice(12, 16), text.slice(16, 20), text.slice(20)].join("-");
}

/**
 * Tell whether a text is a lower-case UUID of version 7.
 * @param {unknown} text
 * @returns {text is string}
 */
export function isUuid7(text) {
  return (
    typeof text === "string" && /^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/.test(text)
  );
}

/**
 * Return when an id was made, by the clock of whoever made it.
 * @param {string} id
 * @returns {number} Unix milliseconds; 0: it tells none
 */
export function madeMs(id) {
  return Number.parseInt(id.replace("-", "").slice(0, 12), 16) || 0;
}
