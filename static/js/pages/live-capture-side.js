/** @import { Bedside } from "../types-form.js" */
/** @import { CaptureModel } from "./live-capture-state.js" */
import { ownRhythm, ownRows } from "../clinical/rhythm.js";
import { el, key } from "../form/dom.js";
import { elapsedWords } from "../form/elapsed.js";
import { wirePath } from "../form/fields.js";
import { say } from "../form/say.js";
import { childWords } from "../form/standing.js";
import { bigKey } from "./live-capture-dial.js";
import { answer, strikeLast } from "./live-capture-keep.js";
import { keepReadBack, lastRead, letGoIfKept, readOf, readSinceTest } from "./live-capture-read.js";
import { modelOf, onDial, rateSaid, stateOf } from "./live-capture-state.js";
import { wiringLines } from "./live-capture-wiring.js";

/** @typedef {import("./tablet-panel.js").LiveTools} LiveTools */

/**
 * The wiring as it was answered, worst first: one key to all of it.
 * @param {Bedside} bed
 * @param {() => void} redraw
 */
export function wiringKey(bed, redraw) {
  const lines = wiringLines(bed).map(({ label, words, state }) =>
    el("span", { class: "cap-wire-said", "data-state": state }, el("span", {}, label), el("b", {}, words)),
  );
  return bigKey(lines, () => open(bed, "wiring", redraw), { "data-act": "wiring" });
}

/** @param {Bedside} bed @param {string} over @param {() => void} redraw */
function open(bed, over, redraw) {
  Object.assign(stateOf(bed), { over, typed: "" });
  redraw();
}

/**
 * What is tapped less often.
 * @param {Bedside} bed
 * @param {CaptureModel} model
 * @param {LiveTools} tools
 * @param {() => void} redraw
 * @returns {HTMLElement[]}
 */
export function sideKeys(bed, model, { add, drafts }, redraw) {
  const isShown = model.kind === "margin_shown";
  const isUnsensed = hasNothingToSense(bed);
  return [
    key(say(isShown ? (model.isDependent ? "live.capture.full_asks" : "live.capture.full") : "live.capture.margin_only"), otherKind, { "data-act": "test-kind" }),
    key(say("live.capture.other_output"), () => open(bed, "called", redraw), { "data-act": "other-output" }),
    paceKey(bed, model, redraw),
    key(say(isUnsensed ? "live.capture.no_sensing" : "live.capture.sensing"), sensing, { "data-act": "sensing-test" }),
    bigKey([el("span", {}, say("live.capture.pulse")), el("small", {}, pulseWords(bed))], () => open(bed, "pulse", redraw), { "data-act": "pulse" }),
    key(say("live.capture.generator"), () => add("capture.dial_left_at"), { "data-act": "left-at-sheet" }),
    key(strikeWords(bed, model), () => void bed.during(strikeLast(bed)), { "data-act": "strike-last", "aria-disabled": model.last ? null : "true" }),
  ];

  function sensing() {
    if (!hasNothingToSense(bed)) return add("capture.sensing_test");
    answer(bed, drafts, "capture.sensing_test", { absent: "not_done", because: say("live.capture.no_sensing").toLowerCase() }, "{}");
  }

  /** A full test of a dependent patient asks for pads and a doctor, both said for this test. */
  function otherKind() {
    const now = modelOf(bed);
    if (now.kind === "margin_shown" && now.isDependent) return add("capture.threshold_test", { kind: "full" });
    const state = stateOf(bed);
    Object.assign(state, { kind: now.kind === "full" ? "margin_shown" : "full", isNew: Boolean(now.test?.told.ids.length) || state.isNew, called: null, isConfirmed: false, rate: "" });
    redraw();
  }
}

/** The pacing rate of the readings that follow. @param {Bedside} bed @param {CaptureModel} model @param {() => void} redraw */
function paceKey(bed, model, redraw) {
  const rate = rateSaid(bed, model);
  const words = rate ? `${rate}\u00a0/min` : say("live.capture.pace_unsaid");
  return bigKey([el("span", {}, say("live.capture.pace")), el("small", {}, words)], () => open(bed, "pace", redraw), { "data-act": "pace", "data-not-yet": rate ? null : "" });
}

/** @param {Bedside} bed */
function pulseWords(bed) {
  return bed.wire ? bed.now.answer(wirePath(bed.wire, "capture.mechanical_rate")).words : say("words.not_asked");
}

/** No own rhythm, and no sensing test told of or left out yet. @param {Bedside} bed */
function hasNothingToSense(bed) {
  const own = ownRhythm(ownRows(bed.now.fold).at(-1) ?? null);
  if (own.result !== "none" || !bed.wire) return false;
  const path = wirePath(bed.wire, "capture.sensing_test");
  return !bed.now.rows(path).length && bed.now.answer(path).state === "not_asked";
}

/** @param {Bedside} bed @param {CaptureModel} model */
function strikeWords(bed, { last }) {
  if (!last) return say("live.capture.strike_none");
  const told = childWords(bed.now, last);
  const output = told("output") || told("output_v");
  return say("strike.named", { words: `${output} ${told("result").toLowerCase()}` });
}

/**
 * Read back from the generator: one number a key, never all at once. What nobody has read
 * since the test is dashed and empty; what was read in another go stands as kept.
 * @param {Bedside} bed
 * @param {CaptureModel} model
 * @param {LiveTools} tools
 * @param {() => void} redraw
 * @returns {HTMLElement[]}
 */
export function readBack(bed, model, { drafts }, redraw) {
  void letGoIfKept(bed, drafts);
  const read = readOf(bed);
  const count = ["mode", "rate", "output", "output_v", "sensitivity", "asynchronous"].filter((name) => read[name]).length;
  const stood = model.isTestOpen ? readSinceTest(bed) : count ? null : lastRead(bed);
  const output = model.isVoltage ? "output_v" : "output";
  const cells = [output, "rate", "sensitivity", "mode"].map((name) => cell(name));
  const age = stood ? el("small", {}, ` · ${elapsedWords(Math.floor((bed.clock() - stood.ms) / 1000))}`) : null;
  return [
    el("p", { class: "cap-read-title", id: "cap-read-title" }, el("b", {}, say("live.capture.read_back")), age),
    ...cells,
    key(say("live.capture.keep_read", { count }), () => void bed.during(keepReadBack(bed, drafts)), { class: "key cap-keep-read", "data-act": "keep-read", "data-weight": "first", "data-none": count ? null : "" }),
  ];

  /** A plain figure of the output as its dial shows it; other words stand as they are. @param {string} name @param {string} told */
  function shownAs(name, told) {
    return name === output && /^\d+(\.\d+)?$/.test(told) ? onDial(model, told) : told;
  }

  /** @param {string} name */
  function cell(name) {
    const isAsync = name === "sensitivity" && read.asynchronous;
    const isKept = read[name] === undefined && !isAsync;
    const said = isAsync ? say("live.capture.async") : (read[name] ?? shownAs(name, stood?.told(name) ?? ""));
    const words = name === "mode" ? said.toUpperCase() : said;
    const attributes = { class: "key cap-cell", "data-act": `read-${name}`, "data-not-yet": words ? null : "", "data-kept": words && isKept ? "" : null, "aria-label": `${say(`live.capture.read.${name}`)}: ${words ? (isKept ? say("live.capture.kept", { words }) : words) : say("capture.not_read")}` };
    return bigKey([el("small", { "aria-hidden": "true" }, say(`live.capture.cell.${name}`)), el("b", { "aria-hidden": "true" }, words || "–")], () => open(bed, name, redraw), attributes);
  }
}
