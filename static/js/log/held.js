/** @import { Base, EntryRow, Keys, Opened, PulledEntry } from "../types.js" */
/** @import { Held } from "../types-fold.js" */
/** @import { Rows } from "./rows.js" */
import { utf8 } from "./bytes.js";
import { decodeBody, decodeHeader } from "./entry.js";
import { openOutside, openOwn, openPacks, openPulled, readable } from "./opened.js";
import { dropPacks, packUp } from "./packs.js";
import { readRows } from "./rows.js";

/**
 * Return a record of which nothing was read yet.
 * @returns {Held}
 */
export function nothingHeld() {
  const upto = { own: {}, pulled: 0 };
  const [own, pulled, aside] = [new Map(), new Map(), new Set()];
  const isSeen = { isRead: false, isPartial: false, hasSnapshot: false, behind: 0 };
  return { own, pulled, aside, upto, folding: null, waiting: [], ...isSeen, stale: true, isUnsure: false, shut: 0, damaged: 0, damagedOutside: 0 };
}

/**
 * Read all of a record.
 * @param {Base} base
 * @param {Keys} keys
 * @param {string} record
 * @param {Held} held filled
 * @returns {Promise<void>}
 */
export async function readWhole(base, keys, record, held) {
  const { stale, hasSnapshot } = held;
  Object.assign(held, { ...nothingHeld(), stale, hasSnapshot });
  let rows = await readRows(base, record, null);
  let packs = await openPacks(keys, rows.packs);
  if (packs.includes(null)) {
    // A damaged pack hides nothing: each of its entries lies there by itself, too.
    void dropPacks(base, record).catch(() => {});
    [packs, rows] = [[], await readRows(base, record, held.upto)];
  }
  for (const entry of packs.flat()) if (entry) keepOwn(held, entry);
  const singles = await take(base, keys, record, held, rows);
  held.isRead = true;
  // A pack stands for all up to its end, so it is made only of a whole, readable run;
  // failing to make one costs nothing but time at the next start.
  const isWhole = singles.length === rows.own.length && !singles.includes(null);
  if (!base.older && isWhole) void packUp(base, keys, record, /** @type {Opened[]} */ (singles)).catch(() => {});
}

/**
 * Read what was written or pulled since a record was read.
 * @param {Base} base
 * @param {Keys} keys
 * @param {string} record
 * @param {Held} held added to
 * @returns {Promise<void>}
 */
export async function readOn(base, keys, record, held) {
  await take(base, keys, record, held, await readRows(base, record, held.upto));
}

/**
 * @param {Base} base
 * @param {Keys} keys
 * @param {string} record
 * @param {Held} held
 * @param {Rows} rows
 * @returns {Promise<(Opened | null)[]>} the single entries that were opened
 */
async function take(base, keys, record, held, rows) {
  const others = rows.own.filter((row) => !isHeld(held, row));
  const own = await readable(keys, others);
  const singles = await openOwn(keys, own);
  const outside = base.older ? await openOutside(keys, rows.outside, record) : [];
  const pulled = await openPulled(keys, rows.pulled);
  for (const { log, seq } of rows.own) held.upto.own[log] = Math.max(held.upto.own[log] ?? 0, seq);
  held.upto.pulled = rows.last;
  setAside(held, rows.aside);
  for (const entry of [...singles, ...outside]) if (entry) keepOwn(held, entry);
  for (const entry of pulled.flat()) if (entry) keepPulled(held, entry);
  held.shut += others.length - own.length;
  held.damaged += [...singles, ...pulled].filter((entry) => entry === null).length;
  held.damagedOutside = outside.filter((entry) => entry === null).length;
  return singles;
}

/**
 * Take in which own entries do not count.
 * @param {Held} held
 * @param {Set<string>} aside
 */
export function setAside(held, aside) {
  const isOther = [...held.aside].some((id) => !aside.has(id)) || [...aside].some((id) => !held.aside.has(id) && held.own.has(id));
  held.aside = aside;
  if (isOther) held.folding = null;
}

/**
 * @param {Held} held
 * @param {Pick<EntryRow, "id" | "log" | "seq">} row
 */
function isHeld({ own }, { id, log, seq }) {
  const known = own.get(id);
  return known?.log === log && known.seq === seq;
}

/**
 * @param {Held} held
 * @param {Opened} entry
 */
function keepOwn(held, entry) {
  const { id, log, seq } = entry;
  held.upto.own[log] = Math.max(held.upto.own[log] ?? 0, seq);
  if (isHeld(held, entry)) return;
  // It moved to another place, or all that is known of it is from others.
  if (held.own.has(id) || held.pulled.has(id)) held.folding = null;
  held.own.set(id, entry);
  held.waiting.push(entry);
}

/**
 * A ruling may be told again, later: the last one told stands. The body of an entry
 * that does not count may be anything, and is not read.
 * @param {Held} held
 * @param {PulledEntry} told
 */
function keepPulled(held, { header, body, counts }) {
  const { id, log, seq } = decodeHeader(header);
  const entry = counts === "counted" && body !== null ? { id, log, seq, body: decodeBody(utf8(body)) } : null;
  // Told otherwise before, or written here: not one more entry, but another record.
  if (held.pulled.has(id) || held.own.has(id)) held.folding = null;
  held.pulled.set(id, entry);
  if (entry) held.waiting.push(entry);
}
