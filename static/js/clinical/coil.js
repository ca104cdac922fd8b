/** @import { Found, Told } from "./types-found.js" */
/** @import { Look } from "./types-way.js" */
/** @import { Exact } from "./types.js" */
import { stillLies } from "./deep.js";
import { decimal, isLess, minus, number, product, ratio } from "./exact.js";
import { found } from "./found.js";
import { AT_HUB } from "./read_at.js";
import { remark } from "./remarks.js";
import { isObject, oneAnswer, point } from "./rows.js";
import { siteCode, siteSide } from "./sites.js";
import { inOrder, looksOf, runs, when } from "./way.js";

const KEY = "coil_advance_without_change_cm";
/** Before the atrium a wire from below or from the arm has a long vein to pass. @type {{[site: string]: string}} */
const ENTRY_VEIN = { femoral: "ivc", arm: "svc" };
/** domain 2e: ring n lies n times 10 cm from the tip. */
const RING_CM = ratio(10n, 1n);
/** clinical 3: so many cm may differ. */
const RINGS_DIFFER_CM = ratio(1n, 1n);
const ONE = ratio(1n, 1n);

/** @typedef {{chamber: string, counts: boolean, origins: Map<string, {depth: Exact, id: string}>}} Run */

/**
 * Return where a wire went too far in one chamber, counted from the atrium on.
 * @param {Told} told
 * @param {string} wire
 * @returns {Found[]}
 */
export function coil(told, wire) {
  const bound = number(told.limits[KEY]);
  if (!bound) return [];
  const [site] = siteSide(siteCode(told.fold, wire));
  const looks = looksOf(told.fold, wire);
  // A new pass changes no chamber: what was shallowest in this one stays the origin.
  const run = beginRun();
  const far = looks.map((look) => {
    const one = further(run, look, site);
    return one && isLess(bound, one.by) ? one : null;
  });
  const marks = far.map((one, n) => one && `${one.id} ${looks[n].turn}`);
  return runs(marks).flatMap(([first, last]) => {
    const one = far[last];
    if (!one) return [];
    const ids = inOrder(told.fold, [one.id, ...looks.slice(first, last + 1).map((look) => look.row.id)]);
    const { row } = looks[last];
    const stands = last === looks.length - 1 && stillLies(told, wire, when(row));
    return [found(remark("coil", "look_now", { advance: decimal(one.by) }, [KEY], "coil"), row.path, wire, ids, stands)];
  });
}

/** Begin to follow a wire. @returns {Run} */
export function beginRun() {
  return { chamber: "", counts: false, origins: new Map() };
}

/** Take a reading; return how far from the origin, and the origin's entry. @param {Run} run @param {Look} look @param {string} site */
export function further(run, look, site) {
  if (look.chamber && look.chamber !== run.chamber) {
    run.chamber = look.chamber;
    run.origins = new Map();
  }
  if (look.chamber === "ra") run.counts = true;
  else if (look.chamber && look.chamber === ENTRY_VEIN[site]) run.counts = false;
  if (!look.depth) return null;
  const known = run.origins.get(look.read_at);
  const origin = !known || isLess(look.depth, known.depth) ? { depth: look.depth, id: look.row.id } : known;
  run.origins.set(look.read_at, origin);
  return run.counts ? { by: minus(look.depth, origin.depth), id: origin.id } : null;
}

/**
 * Return the depth that rings outside the hub tell: 4 rings, 6 cm out give 34; null where they
 * tell none.
 * @param {any} rings any: a quantity as kept, how many marks the first ring outside has
 * @param {any} beyond any: a quantity as kept
 * @returns {Exact | null}
 */
export function depthByRings(rings, beyond) {
  const count = isObject(rings) && !("cmp" in rings) ? number(rings.n) : null;
  const out = number(point(beyond, "cm").n);
  if (!count || !out || isLess(count, ONE) || count.d !== 1n) return null;
  return minus(product(count, RING_CM), out);
}

/**
 * Return where rings and called depth differ by more than 1 cm, at the hub.
 * @param {Told} told
 * @param {string} wire
 * @returns {Found[]}
 */
export function ringsDisagree(told, wire) {
  if (oneAnswer(told.fold, `wires/${wire}/approach.wire_ring_code`) !== "every_10_cm") return [];
  const looks = looksOf(told.fold, wire);
  return looks.flatMap((look) => {
    const { rings_out: rings, cm_beyond: beyond } = look.row.value;
    const byRings = depthByRings(rings, beyond);
    if (!byRings || !look.depth || look.read_at !== AT_HUB) return [];
    const apart = isLess(byRings, look.depth) ? minus(look.depth, byRings) : minus(byRings, look.depth);
    if (!isLess(RINGS_DIFFER_CM, apart)) return [];
    const values = { rings: rings.n, out: beyond.n, by_rings: decimal(byRings), depth: decimal(look.depth) };
    const stands = look === looks.at(-1) && stillLies(told, wire, when(look.row));
    return [found(remark("rings_disagree", "look_again", values), look.row.path, wire, [look.row.id], stands)];
  });
}
