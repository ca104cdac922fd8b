/** @import { Fold } from "../types.js" */
/** @import { Found, Told } from "./types-found.js" */
import { entriesOf } from "./evidence.js";
import { found } from "./found.js";
import { heads } from "./over.js";
import { remark } from "./remarks.js";
import { rowsOf } from "./rows.js";

const BASIS = "consent.basis";
const KNOWN = "consent.known_refusal";
const PARTS = ["approach.", "advance.", "capture.", "checks.", "removal."];

/**
 * Return a refusal with anything begun, and a known one beside an emergency.
 * @param {Told} told
 * @returns {Found[]}
 */
export function refusalRemarks({ fold }) {
  const bases = heads(fold, BASIS);
  const all = [];
  const first = begun(fold).at(0);
  if (bases.includes("refused") && first !== undefined) {
    const ids = new Set([...entriesOf(fold, [BASIS]), first]);
    const evidence = fold.order.filter((id) => ids.has(id));
    all.push(found(remark("refusal_stands", "look_now"), BASIS, "", evidence));
  }
  if (bases.includes("emergency_exception") && heads(fold, KNOWN).includes("yes")) {
    all.push(found(remark("refusal_known", "look_now"), KNOWN, "", entriesOf(fold, [BASIS, KNOWN])));
  }
  return all;
}

/**
 * Return the entries of the procedure, in order; "not started" is none of it.
 * @param {Fold} fold
 * @returns {string[]}
 */
function begun(fold) {
  const isStarted = heads(fold, "finish.outcome").some((one) => one !== "not_started");
  const parts = isStarted ? [...PARTS, "finish."] : PARTS;
  const isIn = (/** @type {string} */ path) => parts.some((part) => (path.split("/").at(-1) ?? "").startsWith(part));
  const answered = Object.keys(fold.values).filter((path) => isIn(path) && heads(fold, path).length > 0);
  return entriesOf(fold, answered, rowsOf(fold, ...Object.keys(fold.rows).filter(isIn)));
}
