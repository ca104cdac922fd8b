/** @import { Bedside } from "../types-form.js" */
/** @import { CaptureModel } from "./live-capture-state.js" */
import { el, key } from "../form/dom.js";
import { say } from "../form/say.js";
import { paced } from "../live/capture.js";
import { num } from "../live/num.js";
import { keepReading } from "./live-capture-keep.js";
import { isWaiting, modelOf, onDial, stateOf } from "./live-capture-state.js";

const RESULTS = /** @type {const} */ (["captures", "no_capture", "cannot_tell"]);

/**
 * The dial as it was called: a key that says somebody read it, between the keys that lead
 * to the values beside it.
 * @param {Bedside} bed
 * @param {CaptureModel} model
 * @param {() => void} redraw dial, line and results
 * @param {() => void} redrawAll what lies over them, too
 * @returns {HTMLElement[]}
 */
export function dialKeys(bed, model, redraw, redrawAll) {
  return [step(bed, model, "down", redraw), confirmKey(bed, model, redraw, redrawAll), step(bed, model, "up", redraw)];
}

/**
 * A key of several lines.
 * @param {(Node | string | null)[]} children
 * @param {() => void} onTap
 * @param {import("../form/dom.js").Attributes} attributes
 */
export function bigKey(children, onTap, attributes) {
  const made = key("", onTap, attributes);
  made.append(...children.filter((child) => child !== null));
  return made;
}

/** @param {Bedside} bed @param {CaptureModel} model @param {"up" | "down"} way @param {() => void} redraw */
function step(bed, model, way, redraw) {
  const leads = model[way];
  const shown = leads === null ? "–" : onDial(model, leads);
  const attributes = {
    class: "key cap-step", "data-act": `dial-${way}`, "data-way": way, "aria-disabled": leads === null ? "true" : null,
    "aria-label": leads === null ? say(`live.capture.${way}_none`) : say(`live.capture.${way}`, { output: `${shown} ${model.unit}` }),
  };
  return bigKey([el("b", { "aria-hidden": "true" }, way === "up" ? "+" : "−"), el("span", { "aria-hidden": "true" }, shown)], tap, attributes);

  function tap() {
    const now = modelOf(bed);
    if (now[way] === null || isWaiting(bed)) return;
    // Another value than the one that was read: nobody has read it yet.
    Object.assign(stateOf(bed), { called: onDial(now, String(now[way])), isConfirmed: false });
    redraw();
  }
}

/** @param {Bedside} bed @param {CaptureModel} model @param {() => void} redraw @param {() => void} redrawAll */
function confirmKey(bed, model, redraw, redrawAll) {
  const { isConfirmed, called } = stateOf(bed);
  const shown = model.called === null ? null : onDial(model, model.called);
  // A tap meanwhile is none on the next value: why it does nothing stands on the key.
  const isKeeping = isWaiting(bed);
  const ask = say(isKeeping ? "live.capture.keeping" : shown === null ? "live.capture.which" : isConfirmed ? "live.capture.reads" : "live.capture.tap_when");
  const attributes = { class: "key cap-confirm", "data-act": "dial-confirm", "aria-pressed": String(isConfirmed), "data-not-yet": isConfirmed ? null : "", "data-offered": called === null && !isConfirmed ? "" : null, "aria-disabled": isKeeping ? "true" : null };
  const children = [
    el("span", { class: "cap-ask" }, ask),
    el("span", { class: "cap-called" }, shown === null ? el("b", {}, "–") : num(shown, model.unit)),
    el("span", { class: "cap-ask" }, say(isConfirmed ? "live.capture.confirmed" : called === null ? "live.capture.offered" : "live.capture.not_confirmed")),
  ];
  return bigKey(children, tap, attributes);

  function tap() {
    const state = stateOf(bed);
    const now = modelOf(bed);
    if (isWaiting(bed)) return;
    if (now.called === null) {
      Object.assign(state, { over: "called", typed: "" });
      return redrawAll();
    }
    Object.assign(state, { called: onDial(now, now.called), isConfirmed: true, isAsked: false });
    redraw();
  }
}

/**
 * What stands between dial and results: which test it is, and what comes next.
 * @param {Bedside} bed
 * @param {CaptureModel} model
 */
export function lineOf(bed, model) {
  const { isConfirmed, isAsked } = stateOf(bed);
  const test = `${say("live.capture.test", { number: model.number })}, ${kindWords(model)}`;
  const ends = isConfirmed ? "" : model.ends ? say(`clinical.next.${model.ends}`) : raiseWords(bed, model);
  const next = say(isConfirmed ? "live.capture.then_result" : isAsked ? "live.capture.first_dial" : "live.capture.dial_first");
  return [el("p", { class: "cap-test" }, test, model.dial.known ? null : el("span", { class: "cap-steps-unknown" }, ` · ${say("live.capture.dial_not_known")}`)), el("p", { class: "cap-next", "data-asked": isAsked ? "" : null, role: "status" }, ends && !isAsked ? el("b", {}, ends) : next)];
}

/** Nothing is paced at the output that stands: the way up comes before anything else. @param {Bedside} bed @param {CaptureModel} model */
function raiseWords(bed, model) {
  const last = model.test?.told.readings.at(-1);
  if (last?.result !== "no_capture" || last.output === null || model.called === null || stateOf(bed).called !== null) return "";
  return say("live.capture.raise", { output: onDial(model, last.output), next: onDial(model, model.called) });
}

/** A loss that was found was not "not sought", however the test was begun. @param {CaptureModel} model */
function kindWords({ kind, test }) {
  const isLost = kind === "margin_shown" && test?.told.readings.some(({ result }) => result === "no_capture");
  return say(isLost ? "live.capture.loss_found" : `clinical.kind.${kind}`);
}

/**
 * The three results. Before somebody read the dial they keep nothing, and say why.
 * @param {Bedside} bed
 * @param {() => void} redraw
 * @returns {HTMLElement[]}
 */
export function resultKeys(bed, redraw) {
  const { isConfirmed } = stateOf(bed);
  return RESULTS.map((result) => {
    const drawing = result === "cannot_tell" ? null : paced(result);
    const attributes = { class: "key cap-result", "data-act": result, "data-result": result, "aria-disabled": isConfirmed ? null : "true" };
    return bigKey([drawing, el("span", {}, say(`live.capture.${result}`))], () => tap(result), attributes);
  });

  /** @param {string} result */
  function tap(result) {
    const state = stateOf(bed);
    if (isWaiting(bed)) return;
    // A generator told of meanwhile takes the confirmation back.
    modelOf(bed);
    if (!state.isConfirmed) {
      state.isAsked = true;
      return redraw();
    }
    void bed.during(keepReading(bed, result));
    redraw();
  }
}
