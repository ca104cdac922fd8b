/** @import { Store } from "../types.js" */
/** @import { Outcome } from "../types-sync.js" */
import { sendJson } from "./exchange.js";

/** Grants live as long as the page: a stolen tablet must not keep them. @type {WeakMap<Store, string>} */
const grants = new WeakMap();

/** A code or a person that was not taken, and why; `say` is a key into the user's words. */
export class SignInProblem extends Error {
  /** @param {"unreachable" | "wrong" | "slow" | "revoked" | "failed"} code */
  constructor(code) {
    super(`sign-in: ${code}`);
    this.name = "SignInProblem";
    this.code = code;
    this.say = `sign_in.${code}`;
  }
}

/**
 * Turn a one-time code into this tablet's token and the server's public key, and keep them.
 * @param {Store} store
 * @param {string} code as typed
 * @returns {Promise<{tablet: {id: string, name: string}, hospital: string}>}
 * @throws {SignInProblem} when the code is not taken
 */
export async function enrol(store, code) {
  const plain = code.replace(/[\s-]/g, "").toUpperCase();
  // The former token, if any: what was written under it goes to the new place.
  const given = taken(await sendJson("/tablet/enrol", { code: plain }, await store.wire.token()));
  const { tablet, token, server_key, hospital, zone, people, settings } = given;
  await store.wire.enrol({ tablet, token, server_key, hospital, zone }, people, settings);
  return { tablet, hospital };
}

/**
 * Sign a person in on this tablet; needs the server. The grant lasts as long as the page.
 * @param {Store} store
 * @param {string} name
 * @param {string} password
 * @returns {Promise<{person: string, name: string, expires: string}>}
 * @throws {SignInProblem} when it is not taken
 */
export async function signIn(store, name, password) {
  const given = taken(await sendJson("/tablet/person", { name, password }, await store.wire.token()));
  grants.set(store, given.grant);
  const { person, expires } = given;
  return { person: person.id ?? person, name: person.name ?? name, expires };
}

/**
 * Sign a person in to unlock the tablet; needs the server.
 * @param {string | null} token
 * @param {string} name
 * @param {string} password
 * @param {object} wrap of the tablet's data key, for the server
 * @returns {Promise<{person: {id: string, name: string, role: string}, data_key: string | null}>} data_key null: the server cannot open it
 * @throws {SignInProblem} when it is not taken
 */
export async function signInToUnlock(token, name, password, wrap) {
  return taken(await sendJson("/tablet/person", { name, password, wrap }, token));
}

/**
 * Return the grant of the person signed in on this page, or null.
 * @param {Store} store
 * @returns {string | null}
 */
export function grantOf(store) {
  return grants.get(store) ?? null;
}

/**
 * @param {Outcome<any>} outcome any: shape of the one answer asked for
 * @returns {any} any: the same
 */
function taken(outcome) {
  if (outcome.kind === "reply") return outcome.json;
  if (outcome.kind !== "refused") throw new SignInProblem("unreachable");
  if (outcome.status === 429 || outcome.json?.errors?.[0]?.code === "wait") throw new SignInProblem("slow");
  if (outcome.status === 403) throw new SignInProblem("revoked");
  throw new SignInProblem(outcome.status < 500 ? "wrong" : "failed");
}
