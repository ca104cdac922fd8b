/** @import { Body, Bytes, Header, Json } from "../types.js" */
import { fromUtf8, hex, joined, sha256, utf8 } from "./bytes.js";
import { isUuid7 } from "./uuid.js";

const VERSION = "1";

/** In this order the body's bytes are made, once. */
const BODY_KEYS = /** @type {const} */ ([
  "path", "op", "value", "seen", "at", "author", "entered_by", "called_by", "source", "how", "salt",
]);

/** The largest body: the server takes entries of 64 KiB, header and seal included. */
export const LARGEST_BODY = 64 * 1024 - 28 - 256;

/** A value that no body may carry; a fault of the screen that made it. */
export class UnfitValue extends Error {}

/**
 * Return the header of a new entry as text; its UTF-8 bytes are the seal's associated data.
 * @param {{id: string, record: string, log: string, seq: number, key: string}} fields
 * @returns {string}
 */
export function encodeHeader({ id, record, log, seq, key }) {
  return [VERSION, id, record, log, String(seq), key, ""].join("\n");
}

/**
 * Read a header.
 * @param {string} text
 * @returns {Header}
 * @throws {RangeError} when it is not six lines of the fixed form
 */
export function decodeHeader(text) {
  const [v, id, record, log, seq, key, rest, more] = text.split("\n");
  const isFit = rest === "" && more === undefined && isUuid7(id) && isUuid7(record);
  if (!isFit || !/^[1-9][0-9]{0,15}$/.test(seq)) throw new RangeError("unreadable header");
  return { v, id, record, log, seq: Number(seq), key };
}

/**
 * Make a body's bytes, once. Half characters (lone surrogates), which UTF-8 cannot
 * carry, become U+FFFD.
 * @param {Body} body
 * @returns {Bytes}
 * @throws {UnfitValue} when a number in it is not a whole one below 2^53
 */
export function encodeBody(body) {
  const ordered = Object.fromEntries(BODY_KEYS.map((key) => [key, fit(/** @type {Json} */ (body[key]))]));
  return utf8(JSON.stringify(ordered));
}

/**
 * Read a body's bytes.
 * @param {Uint8Array} bytes
 * @returns {Body}
 */
export function decodeBody(bytes) {
  return JSON.parse(fromUtf8(bytes));
}

/**
 * Return the entry digest, SHA-256(header ‖ SHA-256(body)), in hex.
 * @param {string} header
 * @param {Bytes} body
 * @returns {Promise<string>}
 */
export async function digest(header, body) {
  return hex(await sha256(joined([utf8(header), await sha256(body)])));
}

/**
 * @param {Json} value
 * @returns {Json}
 */
function fit(value) {
  if (typeof value === "number" && !Number.isSafeInteger(value)) {
    throw new UnfitValue(`the number ${value} is not a whole one below 2^53`);
  }
  if (value === undefined) throw new UnfitValue("a value is missing");
  if (typeof value === "string") return value.toWellFormed();
  if (Array.isArray(value)) return value.map(fit);
  if (value === null || typeof value !== "object") return value;
  return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key.toWellFormed(), fit(inner)]));
}
