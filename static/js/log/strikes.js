/** @import { Opened } from "../types.js" */

/**
 * Return, for each struck entry, the strike on it that holds (the lowest by log, seq).
 * A strike holds when no strike on it holds; strikes that name each other in a circle
 * are left undecided, and do not hold.
 * @param {Map<string, Opened>} entries by id
 * @returns {Map<string, Opened>} struck id to strike
 */
export function strikesThatHold(entries) {
  const on = strikesByTarget(entries);
  const holds = decided(entries, on);
  /** @type {Map<string, Opened>} */
  const found = new Map();
  for (const [target, strikes] of on) {
    const valid = strikes.filter((strike) => holds.get(strike.id)).sort(byLogAndSeq);
    if (valid.length) found.set(target, valid[0]);
  }
  return found;
}

/**
 * @param {Map<string, Opened>} entries
 * @returns {Map<string, Opened[]>}
 */
function strikesByTarget(entries) {
  /** @type {Map<string, Opened[]>} */
  const on = new Map();
  for (const entry of entries.values()) {
    const target = targetOf(entry, entries);
    const strikes = target === null ? undefined : on.get(target);
    if (strikes) strikes.push(entry);
    else if (target !== null) on.set(target, [entry]);
  }
  return on;
}

/**
 * @param {Opened} entry
 * @param {Map<string, Opened>} entries
 * @returns {string | null} the add or strike that it names, of the same path
 */
function targetOf({ body }, entries) {
  const value = body.value;
  if (body.op !== "strike" || value === null || typeof value !== "object" || Array.isArray(value)) return null;
  const named = typeof value.strikes === "string" ? entries.get(value.strikes) : undefined;
  const isFit = named?.body.path === body.path && (named.body.op === "add" || named.body.op === "strike");
  return isFit ? named.id : null;
}

/**
 * @param {Map<string, Opened>} entries
 * @param {Map<string, Opened[]>} on
 * @returns {Map<string, boolean>} strike id to whether it holds; undecided ones are absent
 */
function decided(entries, on) {
  const strikes = [...entries.values()].filter((entry) => entry.body.op === "strike").map(({ id }) => id);
  const openOn = new Map(strikes.map((id) => [id, on.get(id)?.length ?? 0]));
  const named = new Map([...on].flatMap(([target, own]) => own.map(({ id }) => [id, target])));
  /** @type {Map<string, boolean>} */
  const holds = new Map(strikes.filter((id) => openOn.get(id) === 0).map((id) => [id, true]));
  // From those that nobody struck on; each is looked at once.
  const waiting = [...holds.keys()];
  for (let strike = waiting.pop(); strike !== undefined; strike = waiting.pop()) {
    const target = named.get(strike) ?? "";
    const open = openOn.get(target);
    if (open === undefined || holds.has(target)) continue;
    openOn.set(target, open - 1);
    if (!holds.get(strike) && open > 1) continue;
    holds.set(target, !holds.get(strike));
    waiting.push(target);
  }
  return holds;
}

/**
 * @param {Opened} a
 * @param {Opened} b
 * @returns {number}
 */
function byLogAndSeq(a, b) {
  if (a.log !== b.log) return a.log < b.log ? -1 : 1;
  // A server that went back may have written another entry in the same place.
  return a.seq - b.seq || (a.id < b.id ? -1 : 1);
}
