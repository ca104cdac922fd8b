/** @import { Bedside } from "../types-form.js" */
/** @import { CaptureModel } from "./live-capture-state.js" */
import { el, fill, key } from "../form/dom.js";
import { identityOf } from "../form/identity.js";
import { parse } from "../form/kinds.js";
import { say } from "../form/say.js";
import { settingOf } from "../form/today.js";
import { modePad, pulseSigns } from "./live-capture-choices.js";
import { answer, specOf } from "./live-capture-keep.js";
import { pad, typedOn, typing } from "./live-capture-pad.js";
import { keepReadBack, noteRead, readOf } from "./live-capture-read.js";
import { suggestions } from "./live-capture-seen.js";
import { modelOf, onDial, stateOf } from "./live-capture-state.js";
import { wiringSheet } from "./live-capture-wiring.js";

/** @type {{[over: string]: string}} */
const UNITS = { output: "mA", output_v: "V", rate: "/min", sensitivity: "mV", pulse: "/min", pace: "/min" };
const WITHOUT_FIGURES = ["wiring", "mode"];
/** What is keyed here by itself, and its key. @type {{[over: string]: string}} */
const OWN_KEYS = { called: "dial-confirm", pulse: "pulse", pace: "pace", wiring: "wiring" };
const PULSE = "capture.mechanical_rate";

/** @typedef {import("../form/unfinished.js").Drafts} Drafts */

/**
 * Draw what lies over the numbers: a keypad beside the number it fills, the modes, the
 * wiring. Who, standing row and rail stay in sight.
 * @param {HTMLElement} at
 * @param {Bedside} bed
 * @param {CaptureModel} model
 * @param {import("./tablet-panel.js").LiveTools} tools
 * @param {() => void} redraw
 */
export function drawOver(at, bed, model, { drafts }, redraw) {
  const { over } = stateOf(bed);
  const wasOpen = !at.hidden && at.dataset.of === over;
  at.hidden = !over;
  at.dataset.of = over;
  for (const area of at.parentElement?.children ?? []) area.toggleAttribute("inert", Boolean(over) && area !== at);
  if (!over) return at.replaceChildren();
  const title = say(`live.capture.over.${over}`);
  at.setAttribute("aria-label", title);
  const head = el("header", { class: "cap-over-head" }, el("p", {}, el("b", {}, title), el("span", {}, identityOf(bed.now).name)));
  const take = (/** @type {string} */ value, name = over) => {
    takeNumber(bed, drafts, name, value);
    leave(at, bed, redraw);
  };
  const press = (/** @type {string} */ sign) => {
    stateOf(bed).typed = typedOn(stateOf(bed).typed, sign);
    redraw();
  };
  fill(at, head, key(say("live.capture.leave"), () => leave(at, bed, redraw), { "data-act": "over-close" }), ...body());
  at.onkeydown = (event) => typedKey(event, at, over, press, () => leave(at, bed, redraw));
  if (!wasOpen) show(at);

  function body() {
    if (over === "wiring") return wiringSheet(bed, drafts);
    if (over === "mode") return modePad(bed, readOf(bed).mode ?? "", take);
    const isAsync = over === "sensitivity" ? key(say("live.capture.asynchronous"), () => take("yes", "asynchronous"), { "data-act": "read-async" }) : null;
    const unit = over === "called" ? model.unit : (UNITS[over] ?? "");
    return [typing(stateOf(bed).typed, unit, suggestions(bed, model, over), take, isAsync, over === "pulse" ? pulseSigns(bed, drafts) : null), pad(press, () => take(stateOf(bed).typed))];
  }
}

/** @param {HTMLElement} at */
function show(at) {
  /** @type {HTMLElement | null} */ (at.querySelector("button:not([data-act='over-close'])"))?.focus({ preventScroll: true });
  // At 200 % the page is scrolled as one, and its top may be out of sight.
  at.scrollIntoView({ block: "start" });
}

/** Close it; the key that opened it has the focus again. @param {HTMLElement} at @param {Bedside} bed @param {() => void} redraw */
function leave(at, bed, redraw) {
  const { over } = stateOf(bed);
  Object.assign(stateOf(bed), { over: "", typed: "" });
  redraw();
  const opener = OWN_KEYS[over] ?? `read-${over}`;
  /** @type {HTMLElement | null | undefined} */ (at.parentElement?.querySelector(`[data-act="${opener}"]`))?.focus({ preventScroll: true });
}

/**
 * Take one number: it goes where its key stood, and nowhere else. The fourth read off the
 * generator makes the row whole.
 * @param {Bedside} bed
 * @param {Drafts} drafts
 * @param {string} name
 * @param {string} value
 */
function takeNumber(bed, drafts, name, value) {
  const text = value.replace(/\.$/, "").replace(/^\./, "0.");
  if (!text) return;
  const now = modelOf(bed);
  if (name === "called") return void Object.assign(stateOf(bed), { called: onDial(now, text), isConfirmed: true, isAsked: false });
  if (name === "pace") return void (stateOf(bed).rate = text);
  if (name === "pulse") return answer(bed, drafts, PULSE, parse(specOf(bed, PULSE), text, null, settingOf(bed)), JSON.stringify({ ":qty": text }));
  noteRead(bed, drafts, name, name.startsWith("output") ? onDial(now, text) : text);
  const read = readOf(bed);
  if (read.mode && read.rate && (read.output || read.output_v) && (read.sensitivity || read.asynchronous)) void bed.during(keepReadBack(bed, drafts));
}

/**
 * Figures by keys: what is typed is kept by Enter.
 * @param {KeyboardEvent} event
 * @param {HTMLElement} at
 * @param {string} over
 * @param {(sign: string) => void} press
 * @param {() => void} close
 */
function typedKey(event, at, over, press, close) {
  const sign = event.key === "," ? "." : event.key === "Backspace" ? "back" : event.key;
  const isFigure = !WITHOUT_FIGURES.includes(over) && (/^[0-9.]$/.test(sign) || sign === "back");
  if (event.key !== "Escape" && !isFigure) return;
  event.preventDefault();
  if (!isFigure) return close();
  press(sign);
  /** @type {HTMLElement | null} */ (at.querySelector("[data-act='pad-done']"))?.focus({ preventScroll: true });
}
