/** @import { Body, Json, Opened } from "../types.js" */
/** @import { Folding, Pictured } from "../types-fold.js" */

/**
 * Write a folded record down, shortly: what many entries say alike stands once, and
 * entries name one another by their place. Salts are left out: nothing is proven by it.
 * @param {Folding} folding
 * @param {(id: string) => boolean} isPulled
 * @param {{aside: string[], none: string[]}} left ids of own and of pulled entries that do not count
 * @returns {Pictured}
 */
export function pictured({ fold, unique, times }, isPulled, left) {
  const places = new Map(fold.order.map((id, n) => [id, n]));
  /** @type {Map<string, number>} */
  const known = new Map();
  /** @type {Json[]} */
  const words = [];
  const word = (/** @type {any} any: whatever many entries say alike */ said) => {
    const text = JSON.stringify(said);
    const place = known.get(text) ?? words.push(said) - 1;
    known.set(text, place);
    return place;
  };
  const rows = fold.order.map((id) => {
    const { log, seq, body } = /** @type {Opened} */ (unique.get(id));
    const { value, seen, at, salt, path, op, ...told } = body;
    const { utc, ...clock } = at;
    const named = seen.map((one) => places.get(one) ?? one);
    return [id, times.get(id), seq, word(log), word(path), word(op), word(clock), utc, word(told), value, named, isPulled(id) ? 1 : 0];
  });
  return { ...left, words, rows: /** @type {Json[][]} */ (rows) };
}

/**
 * Read what was written down.
 * @param {Pictured} picture
 * @returns {{entry: Opened, ms: number, isPulled: boolean}[]} in order
 */
export function entriesOf({ words, rows }) {
  return rows.map((row) => {
    const [id, ms, seq, log, path, op, clock, utc, told, value, named, pulled] = /** @type {any[]} any: as written above */ (row);
    const seen = named.map((/** @type {string | number} */ one) => (typeof one === "number" ? rows[one]?.[0] : one));
    const said = /** @type {any} any: the same */ (words);
    const body = /** @type {Body} */ ({ ...said[told], path: said[path], op: said[op], value, seen, at: { ...said[clock], utc }, salt: "" });
    return { entry: { id, log: said[log], seq, body }, ms, isPulled: pulled === 1 };
  });
}
