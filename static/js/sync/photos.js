/** @import { Store, Wrap } from "../types.js" */
/** @import { Outcome, PhotosHeld } from "../types-sync.js" */
/** @import { Blame } from "./blame.js" */
import { openBlame } from "./blame.js";
import { sendJson, sendPhoto } from "./exchange.js";

/** So many names a question; the server takes a thousand. */
const MOST_ASKED = 500;

/**
 * @typedef {object} PhotoCourse How sending photos has gone since the page opened.
 * @property {number} failures in a row
 * @property {number | null} wait_s what the server asked for
 * @property {boolean} mustAsk what the server holds is not known, or not any more
 * @property {Blame} blame
 * @property {Set<string>} fallen the server fell over these once; they go after all others
 */

/**
 * Begin a course.
 * @returns {PhotoCourse}
 */
export function newPhotoCourse() {
  return { failures: 0, wait_s: null, mustAsk: true, blame: openBlame(), fallen: new Set() };
}

/**
 * Send the next photo, if one waits and no entry does. Whatever goes wrong, it stays.
 * @param {Store} store
 * @param {PhotoCourse} course changed
 * @returns {Promise<boolean>} true: another may follow at once
 */
export async function photoOnce(store, course) {
  const { photos } = store.wire;
  const token = await store.wire.token();
  if (token === null || !(await askOnce(store, course, token))) return false;
  const out = course.blame.leftOut(Date.now());
  const next = (await photos.next(new Set([...out, ...course.fallen]))) ?? (course.fallen.size ? await photos.next(out) : null);
  if (!next) return false;
  const { row, key, problem } = next;
  if (problem || !key?.wrap_server) return refuse(store, course, row.sealed, problem ?? "storage.photo_key_gone");
  const outcome = await sendPhoto(row, /** @type {Wrap} */ (key.wrap_server), token);
  if (outcome.kind !== "reply") return fail(store, course, row.sealed, outcome);
  await photos.settle(row.sealed);
  course.blame.taken([row.sealed]);
  course.fallen.delete(row.sealed);
  Object.assign(course, { failures: 0, wait_s: null });
  return true;
}

/**
 * Ask which of the photos that are here the server lacks: it may have gone back, and an
 * answer of its may have been lost.
 * @param {Store} store
 * @param {PhotoCourse} course changed
 * @param {string} token
 * @returns {Promise<boolean>} false: there is nothing to send, or no answer
 */
async function askOnce(store, course, token) {
  if (!course.mustAsk) return true;
  const names = await store.wire.photos.names();
  for (let at = 0; at < names.length; at += MOST_ASKED) {
    const asked = names.slice(at, at + MOST_ASKED);
    const outcome = await sendJson("/sync/photos", { digests: asked }, token);
    if (outcome.kind !== "reply" || !isHeld(outcome.json)) return fail(store, course, null, outcome);
    await store.wire.photos.compare(asked, outcome.json);
  }
  Object.assign(course, { mustAsk: names.length === 0, failures: 0, wait_s: null });
  return names.length > 0;
}

/**
 * @param {Store} store
 * @param {PhotoCourse} course changed
 * @param {string | null} sealed null: it was a question
 * @param {Outcome<any>} outcome any: not the answer asked for
 * @returns {Promise<boolean>}
 */
async function fail(store, course, sealed, outcome) {
  if (outcome.kind === "refused" && sealed !== null && isAboutIt(outcome)) {
    return refuse(store, course, sealed, outcome.json?.ok === false ? outcome.error : "storage.too_large_for_the_way");
  }
  course.failures += 1;
  course.wait_s = outcome.kind === "refused" ? outcome.after_s : null;
  if (outcome.kind === "refused" && outcome.status === 500 && sealed !== null) await fall(store, course, sealed);
  return false;
}

/**
 * One photo over which the server falls must not hold up the others.
 * @param {Store} store
 * @param {PhotoCourse} course
 * @param {string} sealed
 */
async function fall(store, course, sealed) {
  if (!course.fallen.delete(sealed)) return void course.fallen.add(sealed);
  await refuse(store, course, sealed, "storage.server_falls");
}

/**
 * @param {Store} store
 * @param {PhotoCourse} course
 * @param {string} sealed
 * @param {string} because a text, or a key into the user's words
 * @returns {Promise<true>}
 */
async function refuse(store, course, sealed, because) {
  await store.wire.photos.refuse(sealed, because);
  course.blame.refused(sealed, Date.now());
  return true;
}

/**
 * Tell whether a refusal is about this very photo. One by somebody who is not known, or
 * by a server that has no place for photos, says nothing of it.
 * @param {{status: number}} outcome
 * @returns {boolean}
 */
function isAboutIt({ status }) {
  return [400, 403, 409, 413].includes(status);
}

/**
 * @param {any} json any: what is checked here
 * @returns {json is PhotosHeld}
 */
function isHeld(json) {
  return Array.isArray(json?.lacks) && Number.isInteger(json.most_bytes) && typeof json.too_large === "string";
}
