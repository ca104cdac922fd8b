/** @import { Bytes } from "../types.js" */

const encoder = new TextEncoder();
const decoder = new TextDecoder("utf-8", { fatal: true, ignoreBOM: true });

/**
 * Return the UTF-8 bytes of a text.
 * @param {string} text
 * @returns {Bytes}
 */
export function utf8(text) {
  return encoder.encode(text);
}

/**
 * Return the text of UTF-8 bytes, a leading byte-order mark kept.
 * @param {Uint8Array} bytes
 * @returns {string}
 * @throws {TypeError} when they are not UTF-8
 */
export function fromUtf8(bytes) {
  return decoder.decode(bytes);
}

/**
 * Join byte arrays in order.
 * @param {Uint8Array[]} parts
 * @returns {Bytes}
 */
export function joined(parts) {
  const whole = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}

/**
 * Write bytes as lower-case hex.
 * @param {Uint8Array} bytes
 * @returns {string}
 */
export function hex(bytes) {
  return Array.from(bytes, (b) => b.toString(16).padStart(2, "0")).join("");
}

/**
 * Write bytes as standard base64 with padding.
 * @param {Uint8Array} bytes
 * @returns {string}
 */
export function base64(bytes) {
  return btoa(Array.from(bytes, (b) => String.fromCharCode(b)).join(""));
}

/**
 * Read standard base64.
 * @param {string} text
 * @returns {Bytes}
 */
export function fromBase64(text) {
  return Uint8Array.from(atob(text), (c) => c.charCodeAt(0));
}

/**
 * Return the SHA-256 of bytes, as bytes.
 * @param {Bytes} bytes
 * @returns {Promise<Bytes>}
 */
export async function sha256(bytes) {
  return new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
}

/**
 * Return fresh random bytes.
 * @param {number} count
 * @returns {Bytes}
 */
export function randomBytes(count) {
  return crypto.getRandomValues(new Uint8Array(count));
}
