/** @import { Found, Told } from "./types-found.js" */
/** @import { Exact, StandingRow } from "./types.js" */
import { NONE, amount } from "./amounts.js";
import { inOrder } from "./evidence.js";
import { decimal, isLess, minus, most, number, plus, ratio } from "./exact.js";
import { found } from "./found.js";
import { remark } from "./remarks.js";
import { isObject, rowsOf } from "./rows.js";

const PATH = "approach.attempts";
const KEY = "passes_before_change";
const FAILED = ["not_entered", "artery_entered", "no_wire_passed"];
const ONE = ratio(1n, 1n);

/**
 * Return each operator whose failed passes reach `passes_before_change`. It stands while
 * nobody else has tried since and no vein is entered.
 * @param {Told} told
 * @returns {Found[]}
 */
export function passesRemarks(told) {
  const bound = number(told.limits[KEY]);
  const rows = rowsOf(told.fold, PATH);
  return [...new Set(rows.map(operator))].flatMap((name) => {
    const own = rows.filter((row) => operator(row) === name);
    const count = own.map(failed).reduce(plus, NONE);
    if (!bound || isLess(count, bound)) return [];
    const last = rows[rows.length - 1];
    const stands = last === own[own.length - 1] && last.value.outcome !== "vein_entered";
    const one = remark("passes_many", "look_again", { count: decimal(count) }, [KEY], "change_operator_or_site");
    return [found(one, PATH, "", inOrder(own), stands)];
  });
}

/** Return who tried: a known person, else a name; "" for nobody named. @param {StandingRow} row @returns {string} */
function operator({ value }) {
  const told = isObject(value.operator) ? value.operator : {};
  const key = ["person", "name"].find((one) => typeof told[one] === "string" && told[one].trim());
  return key ? `${key} ${told[key].trim()}` : "";
}

/** Return the passes that failed for certain: of the last one only where it is said. @param {StandingRow} row @returns {Exact} */
function failed({ value }) {
  const passes = most([amount(value.passes, "").low ?? ONE, ONE]);
  return FAILED.includes(value.outcome) ? passes : minus(passes, ONE);
}
