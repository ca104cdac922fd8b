/** @import { Bedside } from "../types-form.js" */
/** @import { DepthRuler } from "../live/depth.js" */
import { atriumTickCm, tickFormula } from "../clinical/atrium_tick.js";
import { ageClass, sizeOf } from "../clinical/ages.js";
import { bandsFor } from "../clinical/bands.js";
import { deepLimitKey } from "../clinical/deep.js";
import { decimal } from "../clinical/exact.js";
import { limits } from "../clinical/policy.js";
import { oneAnswer, point } from "../clinical/rows.js";
import { siteCode, siteSide } from "../clinical/sites.js";
import { say } from "../form/say.js";
import { coilLineCm } from "../live/coil-line.js";
import { ringOutside } from "../live/rings.js";
import { depthReadings, lastDepth } from "./tablet-panels.js";
import { policyOf } from "./tablet-remarks.js";

/** A plain scale until the site says that the way is longer. */
const LENGTH_CM = 60;
/** @type {{[site: string]: number}} */
const LENGTHS_CM = { femoral: 75, arm: 90 };

/** @typedef {Pick<DepthRuler, "lengthCm" | "hasRings" | "wireCm" | "bands" | "limitCm" | "limitWords" | "tickCm" | "coil"> & {told: string[]}} Way */

/** @type {WeakMap<object, {wire: string | null, policy: Bedside["policy"], way: Way}>} of a fold that never changes */
const known = new WeakMap();

/**
 * Return the depth ruler of the page's wire: what was read, and what is expected where.
 * @param {Bedside} bed
 * @param {string} today
 * @returns {DepthRuler}
 */
export function ropeOf(bed, today) {
  const all = depthReadings(bed, today);
  const read = all.filter((reading) => !reading.isStruck && reading.cm !== null);
  const beads = read.map(({ cm, atHub }) => ({ cm: Number(cm), atHub }));
  const last = lastDepth(all);
  const { told, ...way } = wayOf(bed);
  const seen = way.hasRings && last?.cm && last.atHub ? ringOutside(last.cm, way.wireCm) : null;
  const rings = seen ? say("rope.spoken", { from: seen.n * 10, cm: seen.out }) : "";
  const first = last ? say("depth.spoken", { said: last.said, count: read.length }) : say("depth.spoken_none");
  return { ...way, beads, words: [first, rings, ...told].filter(Boolean).join(". "), isAdrift: last?.cm === null };
}

/**
 * Return what the site, the person and the kit say of the way in. Children have no bands
 * and no limit; no kit, no rings.
 * @param {Bedside} bed
 * @returns {Way}
 */
export function wayOf(bed) {
  const { fold } = bed.now;
  const last = known.get(fold);
  if (last?.wire === bed.wire && last.policy === bed.policy) return last.way;
  const way = bed.wire ? worked(bed, bed.wire) : { lengthCm: LENGTH_CM, hasRings: false, told: [] };
  known.set(fold, { wire: bed.wire, policy: bed.policy, way });
  return way;
}

/** @param {Bedside} bed @param {string} wire @returns {Way} */
function worked(bed, wire) {
  const { fold } = bed.now;
  const size = sizeOf(fold);
  const isAdult = ageClass(size, limits(policyOf(bed), true)).is_adult;
  const rows = limits(policyOf(bed), isAdult);
  const [site, side] = siteSide(siteCode(fold, wire));
  const wireCm = point(oneAnswer(fold, `wires/${wire}/approach.wire_length`), "cm").n;
  const bands = bandsFor(site, side, isAdult);
  const limit = rows[deepLimitKey(site, side)];
  const height = size.height_cm ? decimal(size.height_cm) : null;
  const tick = atriumTickCm(height, site, side, isAdult);
  const formula = tick === null ? "" : say("clinical.tick", { cm: tick, formula: say(`clinical.tick.${tickFormula(height, site, side, isAdult)}`) });
  const coilCm = coilLineCm(fold, wire, rows.coil_advance_without_change_cm);
  const further = { cm: rows.coil_advance_without_change_cm ?? "", at: coilCm ?? "" };
  return {
    lengthCm: !isAdult && wireCm ? Math.ceil(Number(wireCm) / 10) * 10 : LENGTHS_CM[site] ?? LENGTH_CM,
    hasRings: oneAnswer(fold, `wires/${wire}/approach.wire_ring_code`) === "every_10_cm",
    wireCm,
    bands,
    limitCm: limit ? Number(limit) : null,
    limitWords: limit ? say("rope.limit", { cm: rows.coil_advance_without_change_cm ?? "" }) : "",
    tickCm: tick === null ? null : Number(tick),
    coil: coilCm === null ? null : { cm: Number(coilCm), words: say("rope.coil", further) },
    told: [...bands.map(({ chamber, low_cm, high_cm }) => say("rope.band_spoken", { low: low_cm, high: high_cm, chamber: say(`clinical.depth.band.${chamber}`) })), coilCm === null ? "" : say("rope.coil_spoken", further), formula].filter(Boolean),
  };
}
