/** @import { Found, Told } from "./types-found.js" */
/** @import { Exact, Remark, StandingRow } from "./types.js" */
import { amount, raised } from "./amounts.js";
import { entriesOf } from "./evidence.js";
import { isLess, least, number, ratio } from "./exact.js";
import { atRow, found } from "./found.js";
import { heads, isOver } from "./over.js";
import { remark } from "./remarks.js";
import { HARD, endsOf, isObject, rowsOf } from "./rows.js";

const ECG = "finish.paced_ecg";
const READ = ["seen_by_me", "reported"];
/** domain 5: rule A, frontal axis -30 to -90 degrees, transition at or before V3. */
const AXIS = [ratio(-90n, 1n), ratio(-30n, 1n)];
const TRANSITIONS = ["v1", "v2", "v3"];
const LOWEST = "output_minimum_ma";

/**
 * Return the paced 12-lead's remarks, then each wire's twitch and beat. None proves a place.
 * @param {Told} told
 * @returns {Found[]}
 */
export function placeRemarks(told) {
  return [...rightBundle(told), ...told.wires.flatMap((wire) => [...twitch(told, wire), ...noBeat(told, wire)])];
}

/**
 * Tell whether all three inputs of rule A are known and met.
 * @param {StandingRow} row
 * @returns {boolean}
 */
export function meetsRuleA({ value }) {
  const [low, high] = endsOf(value.axis, "deg");
  if (!low || !high || isLess(low, AXIS[0]) || isLess(high, low) || isLess(AXIS[1], high)) return false;
  return TRANSITIONS.includes(value.transition) && value.s_in_1 === "no";
}

/** Return each right-bundle look; silent once imaged, or taken again since. @param {Told} told @returns {Found[]} */
function rightBundle({ fold, wires }) {
  const rows = rowsOf(fold, ECG);
  const shots = rowsOf(fold, "finish.imaging").filter((row) => READ.includes(row.value.state));
  const isOut = wires.length > 0 && wires.every((wire) => isOver(fold, wire));
  return rows
    .filter((row) => row.value.pattern === "right_bundle")
    .map((row) => {
      const one = meetsRuleA(row)
        ? remark("right_bundle_meets", "fits", {}, [], "image_anyway")
        : remark("right_bundle_image", "look_again", {}, [], "image");
      const isImaged = shots.some((shot) => shot.time_ms >= row.time_ms);
      return found(one, ECG, "", [row.id], row === rows.at(-1) && !isImaged && !isOut);
    });
}

/**
 * Ask at which output; at a low one perforation is named. Low is at or below the lowest output
 * policy asks for; in a child only what is said to be low.
 * @param {Told} told
 * @param {string} wire
 * @returns {Found[]}
 */
function twitch({ fold, limits }, wire) {
  const path = `wires/${wire}/capture.twitch`;
  const at = `wires/${wire}/capture.twitch_output`;
  if (!heads(fold, path).filter(Array.isArray).flat().some((sign) => sign !== "none")) return [];
  const outputs = heads(fold, at);
  const evidence = entriesOf(fold, [path, at]);
  if (!outputs.length) return [found(remark("twitch_output", "look_again"), path, wire, evidence)];
  const remarks = outputs.map((value) => lowOutput(value, number(limits[LOWEST])));
  return remarks.flatMap((one) => (one ? [found(one, path, wire, evidence)] : []));
}

/**
 * @param {any} value any: a quantity as kept
 * @param {Exact | null} lowest
 * @returns {Remark | null}
 */
function lowOutput(value, lowest) {
  const asks = "ultrasound_perforation";
  const isSaid = isObject(value) && ["low", "minimal"].includes(value.special);
  if (isSaid) return remark("twitch_low", "look_again", {}, [], asks);
  const { high } = amount(value, "mA");
  if (!high || !lowest || isLess(least([lowest, HARD.mA[1]]), high)) return null;
  return remark("twitch_at", "look_again", { output: raised(high) }, [LOWEST], asks);
}

/** Return electrical capture beside which no sign of a beat was seen. @param {Told} told @param {string} wire @returns {Found[]} */
function noBeat({ fold }, wire) {
  const path = `wires/${wire}/capture.electrical_capture`;
  const sign = `wires/${wire}/capture.mechanical_capture`;
  const one = remark("capture_no_beat", "look_again");
  const isNone = (/** @type {unknown} */ told) => Array.isArray(told) && told.length === 1 && told[0] === "none";
  const isSaid = heads(fold, path).includes("yes") && heads(fold, sign).some(isNone);
  const checks = rowsOf(fold, `wires/${wire}/checks.check`);
  const seen = checks.filter(({ value }) => value.electrical_capture === "yes" && isNone(value.mechanical_capture));
  return [
    ...(isSaid ? [found(one, sign, wire, entriesOf(fold, [path, sign]))] : []),
    ...seen.map((row) => atRow(one, row, wire, row === checks.at(-1))),
  ];
}
