/** @import { Found, Told } from "./types-found.js" */
import { found, idsInOrder } from "./found.js";
import { PARTS } from "./left_at.js";
import { remark } from "./remarks.js";
import { rowsOf } from "./rows.js";

const TESTS = ["threshold_test", "sensing_test"];
const READINGS = ["output_reading", "sensing_reading"];

/**
 * Return each reading that stands under one wire and names another's test.
 * @param {Told} told
 * @returns {Found[]}
 */
export function mixedRemarks(told) {
  const tests = new Map(told.wires.flatMap((wire) => rowsIn(told, wire, TESTS).map((row) => [row.id, { wire, row }])));
  return told.wires.flatMap((wire) =>
    rowsIn(told, wire, READINGS).flatMap((row) => {
      const owner = tests.get(String(row.value.of));
      if (!owner || owner.wire === wire) return [];
      return [found(remark("wires_mixed", "look_again"), row.path, wire, idsInOrder([owner.row, row]))];
    }),
  );
}

/** @param {Told} told @param {string} wire @param {string[]} names */
function rowsIn(told, wire, names) {
  return rowsOf(told.fold, ...PARTS.flatMap((part) => names.map((name) => `wires/${wire}/${part}.${name}`)));
}
