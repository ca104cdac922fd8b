/** @import { Bytes, ServerKey, TabletWrap, Wrap } from "../types.js" */
import { base64, fromBase64, joined, randomBytes, utf8 } from "./bytes.js";

const NONCE_BYTES = 12;
const CURVE = { name: "ECDH", namedCurve: "P-256" };

/**
 * Import 32 raw bytes as a sealing key that no script can read back.
 * @param {Bytes} raw
 * @returns {Promise<CryptoKey>}
 */
export function sealingKey(raw) {
  return crypto.subtle.importKey("raw", raw, "AES-GCM", false, ["encrypt", "decrypt"]);
}

/**
 * Seal bytes: AES-256-GCM, a fresh nonce in front.
 * @param {CryptoKey} key
 * @param {string} about the associated data; for an entry its header
 * @param {Bytes} bytes
 * @returns {Promise<Bytes>} nonce ‖ ciphertext ‖ tag
 */
export async function seal(key, about, bytes) {
  const nonce = randomBytes(NONCE_BYTES);
  const how = { name: "AES-GCM", iv: nonce, additionalData: utf8(about) };
  return joined([nonce, new Uint8Array(await crypto.subtle.encrypt(how, key, bytes))]);
}

/**
 * Open sealed bytes.
 * @param {CryptoKey} key
 * @param {string} about
 * @param {Uint8Array} sealed
 * @returns {Promise<Bytes>}
 * @throws {DOMException} OperationError, when one bit of anything differs
 */
export async function open(key, about, sealed) {
  const iv = Uint8Array.from(sealed.subarray(0, NONCE_BYTES));
  const rest = Uint8Array.from(sealed.subarray(NONCE_BYTES));
  const how = { name: "AES-GCM", iv, additionalData: utf8(about) };
  return new Uint8Array(await crypto.subtle.decrypt(how, key, rest));
}

/**
 * Wrap a record key for the server: one-time P-256 ECDH, HKDF-SHA-256, AES-256-GCM.
 * @param {{key: string, record: string, log: string}} names
 * @param {Bytes} raw the record key's 32 bytes
 * @param {ServerKey} server
 * @returns {Promise<Wrap>}
 */
export async function wrapForServer(names, raw, server) {
  const own = await crypto.subtle.generateKey(CURVE, false, ["deriveBits"]);
  const theirs = await crypto.subtle.importKey("spki", fromBase64(server.spki), CURVE, false, []);
  const shared = await crypto.subtle.deriveBits({ name: "ECDH", public: theirs }, own.privateKey, 256);
  const secret = await crypto.subtle.importKey("raw", shared, "HKDF", false, ["deriveKey"]);
  const info = utf8(`wiremark wrap 1\n${server.id}\n${names.key}`);
  const derive = { name: "HKDF", hash: "SHA-256", salt: new Uint8Array(0), info };
  const wrapping = await crypto.subtle.deriveKey(derive, secret, { name: "AES-GCM", length: 256 }, false, ["encrypt"]);
  const sealed = await seal(wrapping, names.key, raw);
  const epk = new Uint8Array(await crypto.subtle.exportKey("raw", own.publicKey));
  return {
    ...names,
    server_key: server.id,
    epk: base64(epk),
    nonce: base64(sealed.subarray(0, NONCE_BYTES)),
    wrapped: base64(sealed.subarray(NONCE_BYTES)),
  };
}

/**
 * Wrap a key under another key of this tablet.
 * @param {CryptoKey} under
 * @param {string} id of the wrapped key, its associated data
 * @param {Bytes} raw
 * @returns {Promise<TabletWrap>}
 */
export async function wrapForTablet(under, id, raw) {
  const sealed = await seal(under, id, raw);
  return { nonce: sealed.slice(0, NONCE_BYTES), wrapped: sealed.slice(NONCE_BYTES) };
}

/**
 * Take a key out of its wrap.
 * @param {CryptoKey} under
 * @param {string} id
 * @param {TabletWrap} wrap
 * @returns {Promise<Bytes>} 32 bytes
 */
export function unwrapForTablet(under, id, wrap) {
  return open(under, id, joined([wrap.nonce, wrap.wrapped]));
}

/**
 * Derive the key that wraps the tablet's data key from a passphrase.
 * @param {string} passphrase
 * @param {Bytes} salt
 * @param {number} rounds
 * @returns {Promise<CryptoKey>}
 */
export async function passphraseKey(passphrase, salt, rounds) {
  const secret = await crypto.subtle.importKey("raw", utf8(passphrase), "PBKDF2", false, ["deriveKey"]);
  const derive = { name: "PBKDF2", hash: "SHA-256", salt, iterations: rounds };
  const kind = { name: "AES-GCM", length: 256 };
  return crypto.subtle.deriveKey(derive, secret, kind, false, ["encrypt", "decrypt"]);
}

