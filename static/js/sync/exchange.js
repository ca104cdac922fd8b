/** @import { Bytes, PhotoRow, Wrap } from "../types.js" */
/** @import { Batch, Outcome, PhotoAnswer, SyncReply } from "../types-sync.js" */
import { joined, utf8 } from "../log/bytes.js";

const WITHIN_MS = 30_000;
/** Ten megabytes over a ward's poor network. */
const PHOTO_WITHIN_MS = 5 * 60_000;
const SYNC_TYPE = "application/wiremark-sync";
const PHOTO_TYPE = "application/wiremark-photo";

/**
 * Send one batch and read the answer. Only an answer in our own server's shape counts:
 * a portal's page, a redirect or a cut answer is none. Never throws for the network.
 * @param {Batch} batch
 * @param {string} token
 * @param {string | null} grant of a person signed in on this tablet
 * @returns {Promise<Outcome<SyncReply>>}
 */
export async function sendBatch(batch, token, grant) {
  const headers = { authorization: `Bearer ${token}`, ...(grant ? { "x-person-grant": grant } : {}) };
  const outcome = await ask("/sync", { method: "POST", body: framed(batch), headers, type: SYNC_TYPE });
  if (outcome.kind === "reply" && !isSyncReply(outcome.json)) return { kind: "not_ours" };
  return /** @type {Outcome<SyncReply>} */ (outcome);
}

/**
 * Send one photo; only an answer that names it counts.
 * @param {PhotoRow} row
 * @param {Wrap} wrap of its key
 * @param {string} token
 * @returns {Promise<Outcome<PhotoAnswer>>}
 */
export async function sendPhoto({ sealed, record, key, bytes }, wrap, token) {
  const body = framed({ head: { v: 1, sealed, record, log: wrap.log, key, wrap }, sealed: [bytes] });
  const headers = { authorization: `Bearer ${token}` };
  const outcome = await ask("/sync/photo", { method: "POST", body, headers, type: PHOTO_TYPE, within_ms: PHOTO_WITHIN_MS });
  const isNamed = outcome.kind !== "reply" || (outcome.json.sealed === sealed && ["kept", "had", "erased"].includes(outcome.json.answer));
  return isNamed ? outcome : { kind: "not_ours" };
}

/**
 * Send JSON, read JSON.
 * @param {string} path
 * @param {object} given
 * @param {string | null} token
 * @returns {Promise<Outcome<any>>} any: the caller knows the shape
 */
export function sendJson(path, given, token) {
  /** @type {{[name: string]: string}} */
  const headers = token ? { authorization: `Bearer ${token}` } : {};
  return ask(path, { method: "POST", body: utf8(JSON.stringify(given)), headers, type: "application/json" });
}

/**
 * Read a file of the shell that is JSON.
 * @param {string} path
 * @returns {Promise<any>} any: the caller knows the shape
 * @throws {Error} when it is not there
 */
export async function readJson(path) {
  const response = await fetch(path, { credentials: "omit" });
  if (!response.ok) throw new Error(`${path}: ${response.status}`);
  return response.json();
}

/**
 * Lay out a request as bytes: length of the head, head, sealed bodies.
 * @param {{head: object, sealed: Bytes[]}} batch
 * @returns {Bytes}
 */
export function framed({ head, sealed }) {
  const text = utf8(JSON.stringify(head));
  const length = new Uint8Array(4);
  new DataView(length.buffer).setUint32(0, text.length);
  return joined([length, text, ...sealed]);
}

/**
 * @param {string} path
 * @param {{method: string, body: Bytes, headers: {[name: string]: string}, type: string, within_ms?: number}} what
 * @returns {Promise<Outcome<any>>} any: read by the callers
 */
async function ask(path, { method, body, headers, type, within_ms = WITHIN_MS }) {
  try {
    const response = await fetch(path, {
      ...{ method, body, headers: { ...headers, "content-type": type } },
      // A followed redirect would hide that somebody else answered.
      ...{ redirect: "manual", credentials: "omit", cache: "no-store" },
      signal: AbortSignal.timeout(within_ms),
    });
    return await outcomeOf(response);
  } catch (error) {
    return { kind: "unreachable", because: String(error) };
  }
}

/**
 * @param {Response} response
 * @returns {Promise<Outcome<any>>} any: read by the callers
 */
async function outcomeOf(response) {
  const { status, ok, headers } = response;
  if (response.type === "opaqueredirect") return { kind: "not_ours" };
  const isJson = headers.get("content-type")?.startsWith("application/json");
  const text = await response.text();
  const json = isJson ? parsed(text) : null;
  if (ok) return answered(json, isJson === true);
  const error = json?.error ?? `${status}`;
  const after_s = Number(headers.get("retry-after")) || null;
  // A proxy in front of our server speaks for it when it says these; else only ours does.
  const isFromPath = status === 413 || status === 429 || status >= 500;
  return isFromPath || json?.ok === false ? { kind: "refused", status, error, after_s, json } : { kind: "not_ours" };
}

/**
 * @param {any} json any: not checked yet
 * @param {boolean} isJson
 * @returns {Outcome<any>} any: read by the callers
 */
function answered(json, isJson) {
  if (json?.ok === true) return { kind: "reply", json };
  return isJson && json === null ? { kind: "unreachable", because: "the answer was cut off" } : { kind: "not_ours" };
}

/**
 * @param {string} text
 * @returns {any} any: not checked yet; null when it is not JSON
 */
function parsed(text) {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

/**
 * @param {any} json any: what is checked here
 * @returns {json is SyncReply}
 */
function isSyncReply(json) {
  const lists = ["answers", "logs", "pull", "people"];
  const isTimed = !Number.isNaN(Date.parse(json.server_time));
  return isTimed && lists.every((name) => Array.isArray(json[name])) && Number.isInteger(json.head?.position);
}
