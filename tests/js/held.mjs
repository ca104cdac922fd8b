import { heldPerWire } from "../../static/js/pages/live-held.js";

/**
 * @param {[string, string | null][]} asked record and wire
 * @returns {number[]}
 */
export function held(asked) {
  let made = 0;
  const of = heldPerWire(() => ({ n: (made += 1) }));
  return asked.map(([record, wire]) => of({ record, wire }).n);
}
