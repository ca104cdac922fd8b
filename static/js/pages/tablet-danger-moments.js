/** @import { Bedside, CaseRead } from "../types-form.js" */
import { key } from "../form/dom.js";
import { elapsedWords } from "../form/elapsed.js";
import { wirePath } from "../form/fields.js";
import { keepRow } from "../form/keep-row.js";
import { say } from "../form/say.js";
import { momentMs, timedRows } from "../form/standing.js";
import { exactMoment } from "../log/clock.js";
import { openCard } from "./tablet-danger-card.js";
import { isFinished } from "./tablet-finished.js";

const ARREST = "indication.arrest";
const PULSE_BACK = "indication.pulse_back";

/**
 * Return the latest arrest without a pulse back, and since when; null: none. Which one is
 * open: static/js/clinical/arrests.js.
 * @param {CaseRead} now
 * @returns {{id: string, ms: number | null} | null}
 */
export function openArrest(now) {
  const back = new Set(now.rows(PULSE_BACK).map((row) => String(row.value.of)));
  const open = timedRows(now, [ARREST]).filter(({ row }) => !back.has(row.id) && momentMs(row.value.pulse_back) === null);
  const last = open.at(-1);
  return last ? { id: last.row.id, ms: momentMs(last.row.value.pulse_lost) ?? momentMs(last.row.value.moment) } : null;
}

/**
 * Stamp that the pulse is lost, or that it is back in the same arrest.
 * @param {Bedside} bed
 */
export async function stampArrest(bed) {
  const ms = bed.clock();
  const moment = exactMoment(ms, bed.store.zone());
  const arrest = openArrest(bed.now);
  if (arrest) {
    const age = arrest.ms === null ? "" : elapsedWords(Math.floor((ms - arrest.ms) / 1000));
    const words = age ? say("danger.back_after", { age }) : say("danger.pulse_back");
    await bed.keep({ path: PULSE_BACK, op: "add", value: { of: arrest.id, moment } }, { label: say("danger.arrest"), words });
  } else {
    await bed.keep({ path: ARREST, op: "add", value: { pulse_lost: moment, moment } }, { label: say("danger.arrest"), words: say("danger.no_pulse") });
  }
  bed.refresh();
}

/**
 * Stamp that capture was lost, outside any test, on the wire in view, and show the
 * hospital's card at once: it waits for no write.
 * @param {Bedside} bed
 * @param {string} part the part in sight
 */
export async function stampLost(bed, part) {
  const moment = exactMoment(bed.clock(), bed.store.zone());
  const of = part === "checks" || isFinished(bed.now) ? "checks" : "capture";
  const card = openCard(bed, of);
  const value = { card_opened: "yes", moment };
  const kept = await keepRow(bed, `wires/*/${of}.capture_lost`, value, { label: say("danger.lost_label"), words: say("danger.lost_words") });
  if (kept) card.of(kept);
}

/**
 * Return the key that opens the card again while a loss of the wire in view has no capture
 * back; null: there is none.
 * @param {Bedside} bed
 * @returns {HTMLElement | null}
 */
export function cardKey(bed) {
  const paths = bed.wire ? ["capture", "checks"].map((part) => wirePath(String(bed.wire), part)) : [];
  const back = new Set(paths.flatMap((path) => bed.now.rows(`${path}.capture_regained`)).map((row) => String(row.value.of)));
  const last = timedRows(bed.now, paths.map((path) => `${path}.capture_lost`)).findLast(({ row }) => !back.has(row.id));
  if (!last) return null;
  const { path, row } = last;
  const part = path.endsWith("checks.capture_lost") ? "checks" : "capture";
  return key(say("danger.card_again"), () => openCard(bed, part).of({ path, id: row.id }), { "data-act": "card", "data-of": row.id });
}
