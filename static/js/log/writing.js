/** @import { Body, EntryRow, NewEntry, Sealer } from "../types.js" */
import { hex, randomBytes } from "./bytes.js";
import { stamp } from "./clock.js";
import { LARGEST_BODY, decodeBody, digest, encodeBody, encodeHeader } from "./entry.js";
import { StoreProblem } from "./problem.js";
import { seal } from "./seal.js";
import { uuid7 } from "./uuid.js";

/**
 * Fill in a new entry's body.
 * @param {NewEntry} given
 * @param {string[]} seen
 * @param {number} now_ms
 * @param {{zone: string, skew_ms: number | null}} standing
 * @returns {Body}
 */
export function bodyOf(given, seen, now_ms, { zone, skew_ms }) {
  return {
    path: given.path,
    op: given.op ?? "set",
    value: given.value,
    seen,
    at: { ...stamp(now_ms, zone), skew_ms },
    author: given.author,
    entered_by: given.entered_by ?? given.author,
    called_by: given.called_by ?? null,
    source: given.source ?? "seen",
    how: given.how ?? (given.author.name ? "typed" : "none"),
    salt: hex(randomBytes(16)),
  };
}

/**
 * Make an entry's bytes, its digest and its seal.
 * @param {Sealer} sealer
 * @param {string} record
 * @param {{log: string, seq: number}} place
 * @param {Body} body
 * @param {number} now_ms
 * @returns {Promise<{row: EntryRow, body: Body}>} body: as its bytes will be read again
 * @throws {StoreProblem} when it is larger than the server takes
 */
export async function sealEntry(sealer, record, { log, seq }, body, now_ms) {
  const bytes = encodeBody(body);
  if (bytes.length > LARGEST_BODY) throw new StoreProblem("too_large");
  const id = uuid7(now_ms);
  const header = encodeHeader({ id, record, log, seq, key: sealer.id });
  const row = {
    ...{ id, record, log, seq, header },
    sealed: await seal(sealer.key, header, bytes),
    digest: await digest(header, bytes),
  };
  return { row, body: decodeBody(bytes) };
}
