/**
 * Seal many times with the tablet's own code and tell how often a nonce came again.
 * In, on stdin: {count, ciphered, planted?}; out: {sealed, ciphered, repeated, unlike, opened}.
 * AES itself runs for the first `ciphered` seals; for the others what stands in for it hands
 * back the nonce it was given, so that a million take seconds: `unlike` counts those whose
 * cipher was given another nonce than the seal tells. `planted`: every n-th run of random
 * bytes is the same, as a broken source would give it.
 */
import { readFileSync } from "node:fs";

const asked = JSON.parse(readFileSync(0, "utf8"));
if (asked.planted) {
  const given = crypto.getRandomValues.bind(crypto);
  let calls = 0;
  crypto.getRandomValues = (bytes) => (++calls % asked.planted === 0 ? bytes.fill(7) : given(bytes));
}
const { open, seal, sealingKey } = await import("../../static/js/log/seal.js");

const BATCH = 5000;
const NONCE = 12;
const key = await sealingKey(new Uint8Array(32).fill(1));
const body = new Uint8Array(16).fill(2);
const latin = new TextDecoder("latin1");
const nonces = new Set();
const told = { sealed: 0, ciphered: 0, unlike: 0, opened: 0 };

async function sealBatch(size) {
  return Promise.all(Array.from({ length: size }, () => seal(key, "about", body)));
}

function count(batch) {
  for (const one of batch) nonces.add(latin.decode(one.subarray(0, NONCE)));
  told.sealed += batch.length;
}

while (told.ciphered < asked.ciphered) {
  const batch = await sealBatch(Math.min(BATCH, asked.ciphered - told.ciphered));
  told.ciphered += batch.length;
  const [first] = batch;
  if ((await open(key, "about", first)).every((byte) => byte === 2)) told.opened += 1;
  count(batch);
}
crypto.subtle.encrypt = async (how) => Uint8Array.from(how.iv).buffer;
while (told.sealed < asked.count) {
  const batch = await sealBatch(Math.min(BATCH, asked.count - told.sealed));
  const sameNonce = (one) => one.subarray(0, NONCE).every((byte, n) => byte === one[NONCE + n]);
  told.unlike += batch.filter((one) => !sameNonce(one)).length;
  count(batch);
}
process.stdout.write(JSON.stringify({ ...told, repeated: told.sealed - nonces.size }));
