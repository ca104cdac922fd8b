/** @import { Status } from "../types.js" */
/** @import { Bedside } from "../types-form.js" */
import { el, fill } from "../form/dom.js";
import { elapsedWords } from "../form/elapsed.js";
import { say } from "../form/say.js";
import { generatorState, ownRhythm, padsState } from "../form/standing.js";
import { lead } from "../live/lead.js";
import { noteWords } from "./tablet-note.js";
import { openArrest } from "./tablet-danger-moments.js";
import { captureNumbers, openTestAnywhere } from "./tablet-numbers.js";
import { wireName } from "./tablet-wire.js";

/**
 * Draw the standing row: own rhythm, pads, generator, each with its age. Settings of a
 * test stay in sight until somebody has read the generator back.
 * @param {HTMLElement} at
 * @param {Bedside} bed
 * @param {Status} status
 */
export function drawStand(at, bed, status) {
  const test = openTestAnywhere(bed);
  const { summary } = captureNumbers(bed);
  const left = summary?.shown.left_at ? `${summary.shown.left_at} ${summary.left_at?.unit ?? ""}` : "";
  const generator = generatorState(bed.now, bed.wire, left);
  const note = status.notes[0];
  const arrest = openArrest(bed.now);
  fill(
    at,
    cell(bed, say("stand.own_rhythm"), ownRhythm(bed.now)),
    cell(bed, say("stand.pads"), padsState(bed.now)),
    test ? testCell(bed, test) : cell(bed, say("stand.generator"), generator),
    arrest ? arrestCell(bed, arrest.ms) : null,
    note && !test && !arrest ? el("p", { class: "stand-cell stand-note" }, el("span", {}, noteWords(note))) : null,
  );
}

/** @param {Bedside} bed @param {string} name @param {import("../form/standing.js").Stood} stood */
function cell(bed, name, { words, ms }) {
  const age = ms === null ? null : el("small", {}, elapsedWords(Math.floor((bed.clock() - ms) / 1000)));
  return el("p", { class: "stand-cell" }, el("span", {}, `${name} `, el("b", {}, words)), age);
}

/** The minutes count on until somebody says that the pulse is back. @param {Bedside} bed @param {number | null} ms */
function arrestCell(bed, ms) {
  const age = ms === null ? null : el("b", {}, elapsedWords(Math.floor((bed.clock() - ms) / 1000)));
  return el("p", { class: "stand-cell stand-arrest" }, lead("look_now"), el("span", {}, el("b", {}, say("danger.no_pulse_since")), " ", age));
}

/** @param {Bedside} bed @param {NonNullable<ReturnType<typeof openTestAnywhere>>} open */
function testCell(bed, { test: { setting, seconds, is_late }, elsewhere }) {
  const said = [elsewhere ? wireName(bed, elsewhere) : "", setting, elapsedWords(seconds ?? 0)].filter(Boolean).join(" · ");
  return el(
    "p",
    { class: "stand-cell stand-test", role: "status", "data-weight": is_late ? "look_now" : "look_again" },
    lead(is_late ? "look_now" : "look_again"),
    el("span", {}, el("b", {}, say("stand.test_settings")), ` ${said}`),
  );
}
