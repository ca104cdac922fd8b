// The wraps of a tablet's data key with bytes as base64, for tests that open and make them elsewhere.
import { base64, fromBase64, utf8 } from "../../static/js/log/bytes.js";
import { drawWords, wordsInList, yearsToGuess } from "../../static/js/log/four-words.js";
import { seal } from "../../static/js/log/seal.js";
import { SHORT_WORDS } from "../../static/js/log/short-words.js";
import { closedRow, fits, newDataKey, openWrap, wrapDataKey } from "../../static/js/log/wraps.js";

const BYTES = ["salt", "nonce", "wrapped"];
const asText = (row) => ({ ...row, ...Object.fromEntries(BYTES.map((name) => [name, base64(row[name])])) });
const asBytes = (row) => ({ ...row, ...Object.fromEntries(BYTES.map((name) => [name, fromBase64(row[name])])) });

/** A new data key, its raw bytes, a person's wrap of it and the row that closes a tablet. */
export async function made(person, passphrase) {
  const key = await newDataKey();
  const raw = base64(new Uint8Array(await crypto.subtle.exportKey("raw", key)));
  return { raw, wrap: asText(await wrapDataKey(key, person, passphrase)), closed: asText(await closedRow(key)) };
}

/** What a script can do with the key that a wrap gives: nothing but seal and open. */
export async function opened(row, passphrase, closed) {
  try {
    const key = await openWrap(asBytes(row), passphrase);
    const exported = await crypto.subtle.exportKey("raw", key).then(() => true, () => false);
    const sealed = base64(await seal(key, "about", utf8("34 cm")));
    return { sealed, exported, fits: closed ? await fits(key, asBytes(closed)) : null };
  } catch (error) {
    return { refused: error.name, say: error.say };
  }
}

/** Words drawn many times, and what is told of the list. */
export function drawn(times) {
  return { words: SHORT_WORDS, years: yearsToGuess(1000), count: wordsInList(), drawn: Array.from({ length: times }, () => drawWords()) };
}
