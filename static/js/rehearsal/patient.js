/** @typedef {import("./scripts.js").Script} Script */
/**
 * @typedef {object} Done What was entered so far, in the order it happened.
 * @property {"depth" | "output" | "left_at" | "capture_lost" | "runs"} what
 * @property {number} [n] cm or mA
 * @property {string} [result]
 * @property {number} ms Unix milliseconds
 */

/** @typedef {{shows: "pattern" | "paced" | "own" | "runs", pattern: string | null, captures: boolean | null}} Monitor */

/**
 * Say which chamber the tip lies in. A wrong way is left only by pulling back far enough.
 * @param {Script} script
 * @param {number[]} depths_cm in the order read, the one in hand last
 * @returns {string | null} null: nothing read
 */
export function chamberAt(script, depths_cm) {
  let way = script.first;
  let isTurned = false;
  let chamber = null;
  for (const cm of depths_cm) {
    if (isTurned && script.again && cm <= script.again.back_cm) way = script.again.way;
    chamber = way.findLast(({ from_cm }) => cm >= from_cm)?.pattern ?? null;
    isTurned ||= chamber !== null && chamber === script.again?.turns;
  }
  return chamber;
}

/**
 * Tell whether this output captures now. Without contact nothing does.
 * @param {Script} script
 * @param {Done[]} done
 * @param {number} output_ma
 * @returns {boolean}
 */
export function captures(script, done, output_ma) {
  const chamber = chamberAt(script, depthsOf(done));
  const isLost = script.loses !== null && done.some(({ what }) => what === script.loses?.after);
  const needed_ma = isLost && script.loses ? script.loses.threshold_ma : script.threshold_ma;
  return chamber === "rv_contact" && output_ma >= needed_ma;
}

/**
 * Say what the monitor shows: the strip of the depth in hand, the answer to the dial in
 * hand, and without either how the heart goes by itself or with the output left at.
 * @param {Script} script
 * @param {Done[]} done
 * @param {{depth_cm?: number | null, output_ma?: number | null}} inHand
 * @returns {Monitor}
 */
export function monitorOf(script, done, { depth_cm = null, output_ma = null }) {
  if (output_ma !== null) return { shows: "paced", pattern: null, captures: captures(script, done, output_ma) };
  const left = done.findLast(({ what }) => what === "left_at");
  if (left && depth_cm === null) return { shows: "paced", pattern: null, captures: captures(script, done, left.n ?? 0) };
  const depths = [...depthsOf(done), ...(depth_cm === null ? [] : [depth_cm])];
  const pattern = chamberAt(script, depths);
  if (pattern === null) return { shows: "own", pattern: null, captures: null };
  const isRunning = pattern === script.runs_at && !done.some(({ what }) => what === "runs");
  return { shows: isRunning ? "runs" : "pattern", pattern, captures: null };
}

/** @param {Done[]} done */
function depthsOf(done) {
  return done.flatMap(({ what, n }) => (what === "depth" && n !== undefined ? [n] : []));
}
