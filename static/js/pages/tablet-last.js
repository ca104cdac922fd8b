/** @import { RecordRow } from "../types.js" */
/** @import { Bedside, CaseRead } from "../types-form.js" */
import { point } from "../clinical/rows.js";
import { el } from "../form/dom.js";
import { elapsedWords } from "../form/elapsed.js";
import { wirePath } from "../form/fields.js";
import { say } from "../form/say.js";
import { timedRows } from "../form/standing.js";
import { depthRuler } from "../live/depth.js";
import { num } from "../live/num.js";

/**
 * Say what was told last of a case: depth, entry, what is not sent.
 * @param {Bedside} bed
 * @param {CaseRead} now
 * @param {string | null} wire
 * @param {Pick<RecordRow, "last_ms" | "unsent" | "notTaken">} row last_ms 0: nothing of it counts
 */
export function lastWords(bed, now, wire, { last_ms, unsent, notTaken }) {
  if (!last_ms) return say("start.none_counts");
  const last = wire ? timedRows(now, [wirePath(wire, "advance.depth_reading")]).at(-1) : null;
  const cm = last ? point(last.row.value.depth, "cm").n : null;
  const age = elapsedWords(Math.floor((bed.clock() - last_ms) / 1000));
  const depth = cm ? say("start.depth", { cm, age: elapsedWords(Math.floor((bed.clock() - (last?.ms ?? 0)) / 1000)) }) : "";
  const kept = [unsent && say("start.unsent", { count: unsent }), notTaken && say("start.not_taken", { count: notTaken })].filter(Boolean);
  return [depth, say("start.last_entry", { age }), ...(kept.length ? kept : [say("start.all_sent")])].filter(Boolean).join(" · ");
}

/**
 * Draw the depth read last; none without a figure.
 * @param {CaseRead} now
 * @param {string | null} wire
 */
export function wireDrawing(now, wire) {
  const last = wire ? timedRows(now, [wirePath(wire, "advance.depth_reading")]).at(-1) : null;
  const cm = last ? point(last.row.value.depth, "cm").n : null;
  if (cm === null) return null;
  const words = `${cm} cm`;
  const beads = [{ cm: Number(cm), atHub: true }];
  return el("span", {}, depthRuler({ beads, lengthCm: 60, hasRings: false, words }, { width: 56, height: 84 }), num(cm, "cm", { text: true }));
}
