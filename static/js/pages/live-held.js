/** @import { Bedside } from "../types-form.js" */

/**
 * Return what finds the thing held for a case's wire, made when first asked for. The first
 * entry of a wire brings the wire: what was held without one goes on with it. While that
 * entry is being written the page may be without a wire once more: it goes on then too.
 * @template T
 * @param {() => T} make
 * @returns {(bed: Pick<Bedside, "record" | "wire">) => T}
 */
export function heldPerWire(make) {
  /** @type {Map<string, T>} */
  const held = new Map();
  return ({ record, wire }) => {
    const bare = `${record} `;
    const name = bare + (wire ?? "");
    const known = held.get(name) ?? (wire ? held.get(bare) : ofCase(bare));
    if (wire) held.delete(bare);
    // What is another wire's is only borrowed: it would be taken for the next one's.
    else if (known) return known;
    const found = known ?? make();
    held.set(name, found);
    return found;
  };

  /** @param {string} bare */
  function ofCase(bare) {
    return [...held].find(([name]) => name.startsWith(bare))?.[1];
  }
}
