/** @import { Found, Told } from "./types-found.js" */
/** @import { Exact } from "./types.js" */
import { balloonVolume } from "./balloon_volume.js";
import { entriesOf } from "./evidence.js";
import { ratio } from "./exact.js";
import { found } from "./found.js";
import { LEAK_KEY, kitFit } from "./kit.js";
import { heads, isOver } from "./over.js";
import { remark } from "./remarks.js";
import { momentMs, oneAnswer, point } from "./rows.js";

/** The catalogue's hard range of a sheath, French. @type {[Exact, Exact]} */
export const HARD_SHEATH_FR = [ratio(3n, 1n), ratio(14n, 1n)];
/** The catalogue's hard range of a wire, French. @type {[Exact, Exact]} */
export const HARD_WIRE_FR = [ratio(2n, 1n), ratio(8n, 1n)];
const DILATOR = "approach.dilator_at";
const PROOF = "approach.venous_proof";
const PROOF_AT = "approach.venous_proof_at";
const FR = "[Ch]";

/**
 * Return the dilator's order in the case, then each wire's remarks on its kit.
 * @param {Told} told
 * @returns {Found[]}
 */
export function kitRemarks(told) {
  const parts = [fit, noSidePort, balloonVolume];
  return [...dilator(told), ...told.wires.flatMap((wire) => parts.flatMap((part) => part(told, wire)))];
}

/** Say whether the wire passes its sheath, and whether blood may leak round it. @param {Told} told @param {string} wire @returns {Found[]} */
function fit(told, wire) {
  const under = `wires/${wire}/approach`;
  const paths = [`${under}.introducer_fr`, `${under}.wire_fr`];
  const sheath = point(oneAnswer(told.fold, paths[0]), FR, HARD_SHEATH_FR).n;
  const thick = point(oneAnswer(told.fold, paths[1]), FR, HARD_WIRE_FR).n;
  const how = kitFit(sheath, thick, told.limits);
  const stands = !isOver(told.fold, wire);
  if (!how || sheath === null || thick === null || (how === "fits" && !stands)) return [];
  const keys = how === "does_not_pass" ? [] : [LEAK_KEY];
  const one = remark(`kit_${how}`, how === "fits" ? "fits" : "look_again", { sheath, wire: thick }, keys);
  return [found(one, paths[1], wire, entriesOf(told.fold, paths), stands)];
}

/** Say that a vasopressor is meant for a line without a side port. @param {Told} told @param {string} wire @returns {Found[]} */
function noSidePort(told, wire) {
  const under = `wires/${wire}/approach`;
  const paths = [`${under}.introducer_vasopressor`, `${under}.introducer_side_port`];
  if (!heads(told.fold, paths[0]).includes("yes") || !heads(told.fold, paths[1]).includes("no")) return [];
  const one = remark("vasopressor_no_side_port", "look_again", {}, [], "side_port");
  return [found(one, paths[0], wire, entriesOf(told.fold, paths), !isOver(told.fold, wire))];
}

/**
 * Say that the dilator went in before the vein was proven. Where the vein is proven but its
 * moment is not known, the order is not judged.
 * @param {Told} told
 * @returns {Found[]}
 */
function dilator(told) {
  const said = oneAnswer(told.fold, DILATOR);
  if (said === null) return [];
  const dilatedMs = momentMs(said);
  const provenMs = momentMs(oneAnswer(told.fold, PROOF_AT));
  if (provenMs === null ? isProven(told) : dilatedMs === null || dilatedMs >= provenMs) return [];
  const one = remark("dilator_before_proof", "look_now", {}, [], "venous_proof");
  const ids = entriesOf(told.fold, [DILATOR, PROOF, PROOF_AT]);
  const goesOn = told.wires.length === 0 || told.wires.some((wire) => !isOver(told.fold, wire));
  return [found(one, DILATOR, "", ids, goesOn && provenMs === null)];
}

/** Tell whether any way of proving the vein was said, its moment aside. @param {Told} told */
function isProven(told) {
  return heads(told.fold, PROOF).flat().some((way) => way !== "none");
}
