/** @import { Bytes, Who } from "../types.js" */
/** @import { ClosedRow, PersonWrap } from "../types-lock.js" */
import { randomBytes, utf8 } from "./bytes.js";
import { open, seal } from "./seal.js";

/** So many rounds make one guess cost a tablet half a second; later rows may tell more. */
const ROUNDS = 600_000;
const SALT_BYTES = 16;
const NONCE_BYTES = 12;
const DATA_KEY = { name: "AES-GCM", length: 256 };
const TABLET = "tablet";

/** A passphrase that does not open its wrap. */
export class WrongPassphrase extends Error {
  constructor() {
    super("the passphrase does not open this wrap");
    this.name = "WrongPassphrase";
    this.say = "lock.wrong";
  }
}

/**
 * Return a passphrase as it is counted: blanks between words may be typed in any number,
 * and a letter that a keyboard can make in two ways is one letter.
 * @param {string} typed
 * @returns {string}
 */
export function plainPassphrase(typed) {
  return typed.normalize("NFKC").trim().split(/\s+/u).join(" ");
}

/**
 * Make a data key. It can be wrapped, so it is let go of as soon as it is: what a tablet
 * works with comes out of a wrap, and no script can read that one back.
 * @returns {Promise<CryptoKey>}
 */
export function newDataKey() {
  return crypto.subtle.generateKey(DATA_KEY, true, ["encrypt", "decrypt"]);
}

/**
 * Wrap the data key under a person's passphrase: PBKDF2-SHA-256, then AES-256-GCM with the
 * row's name as associated data.
 * @param {CryptoKey} dataKey one that can be wrapped
 * @param {Who} person
 * @param {string} passphrase
 * @returns {Promise<PersonWrap>}
 */
export async function wrapDataKey(dataKey, person, passphrase) {
  const who = wrapName(person);
  const salt = randomBytes(SALT_BYTES);
  const nonce = randomBytes(NONCE_BYTES);
  const under = await derived(passphrase, salt, ROUNDS, ["wrapKey"]);
  const wrapped = new Uint8Array(await crypto.subtle.wrapKey("raw", dataKey, under, how(nonce, who)));
  return { who, person, how: "passphrase", kdf: "PBKDF2-SHA-256", rounds: ROUNDS, salt, nonce, wrapped };
}

/**
 * Take the data key out of a person's wrap.
 * @param {PersonWrap} row
 * @param {string} passphrase
 * @param {boolean} [isToBeWrapped] true: to wrap it anew; else no script can read it back
 * @returns {Promise<CryptoKey>}
 * @throws {WrongPassphrase}
 */
export async function openWrap({ who, salt, rounds, nonce, wrapped }, passphrase, isToBeWrapped = false) {
  const under = await derived(passphrase, salt, rounds, ["unwrapKey"]);
  try {
    return await crypto.subtle.unwrapKey("raw", wrapped, under, how(nonce, who), DATA_KEY, isToBeWrapped, ["encrypt", "decrypt"]);
  } catch (error) {
    if (error instanceof DOMException && error.name === "OperationError") throw new WrongPassphrase();
    throw error;
  }
}

/**
 * Make the row that stands where the empty passphrase's stood. A page of before the lock
 * finds a row there, which it does not replace, and cannot open it; a page of now proves by
 * it that a data key is this tablet's.
 * @param {CryptoKey} dataKey
 * @returns {Promise<ClosedRow>}
 */
export async function closedRow(dataKey) {
  const sealed = await seal(dataKey, TABLET, randomBytes(32));
  const [nonce, wrapped] = [sealed.slice(0, NONCE_BYTES), sealed.slice(NONCE_BYTES)];
  return { who: TABLET, how: "closed", kdf: "PBKDF2-SHA-256", rounds: 1, salt: randomBytes(SALT_BYTES), nonce, wrapped };
}

/**
 * Tell whether a data key is the one that a tablet was closed with.
 * @param {CryptoKey} dataKey
 * @param {ClosedRow} row
 * @returns {Promise<boolean>}
 */
export function fits(dataKey, { nonce, wrapped }) {
  const sealed = new Uint8Array([...nonce, ...wrapped]);
  return open(dataKey, TABLET, sealed).then(() => true, () => false);
}

/**
 * Return the name of a person's row: the id where the server gave one, else the name as typed.
 * @param {Who} person
 * @returns {string}
 */
export function wrapName({ person, name }) {
  return person ? `person ${person}` : `name ${name}`;
}

/**
 * @param {string} passphrase
 * @param {Bytes} salt
 * @param {number} rounds
 * @param {KeyUsage[]} uses
 * @returns {Promise<CryptoKey>}
 */
async function derived(passphrase, salt, rounds, uses) {
  const secret = await crypto.subtle.importKey("raw", utf8(plainPassphrase(passphrase)), "PBKDF2", false, ["deriveKey"]);
  const derive = { name: "PBKDF2", hash: "SHA-256", salt, iterations: rounds };
  return crypto.subtle.deriveKey(derive, secret, DATA_KEY, false, uses);
}

/**
 * @param {Bytes} iv
 * @param {string} who
 */
function how(iv, who) {
  return { name: "AES-GCM", iv, additionalData: utf8(`wrap\n${who}\n`) };
}
