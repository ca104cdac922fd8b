/** @import { Enrolment, Wrap } from "../types.js" */
/** @import { ServerWay } from "../types-lock.js" */
import { fromBase64 } from "./bytes.js";
import { sealingKey, wrapForServer } from "./seal.js";

/** Where a record's key has record and log, the tablet's own has this. */
const TABLET = "tablet";

/**
 * Wrap the tablet's data key for its server, which gives it back to who signs in there.
 * @param {CryptoKey} dataKey one that can be wrapped
 * @param {Pick<Enrolment, "tablet" | "server_key">} enrolment
 * @returns {Promise<ServerWay>}
 */
export async function serverWay(dataKey, { tablet, server_key }) {
  const raw = new Uint8Array(await crypto.subtle.exportKey("raw", dataKey));
  // The name is sealed in: the server opens nothing else by this way, such as a record's key.
  const names = { key: `data key of ${tablet.id}`, record: TABLET, log: TABLET };
  return { who: "server", how: "server", wrap: await wrapForServer(names, raw, server_key) };
}

/**
 * Take the data key from the server's answer; no script can read it back.
 * @param {unknown} told base64, or null: the server cannot open it
 * @returns {Promise<CryptoKey | null>}
 */
export async function keyFromServer(told) {
  return typeof told === "string" ? sealingKey(fromBase64(told)) : null;
}
