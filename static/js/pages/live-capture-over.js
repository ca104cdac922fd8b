/** @import { Bedside } from "../types-form.js" */
/** @import { CaptureModel } from "./live-capture-state.js" */
import { firstSettingsOf } from "../clinical/first_settings.js";
import { point } from "../clinical/rows.js";
import { toldOf } from "../clinical/told.js";
import { sensingSummary } from "../clinical/wire_sensing.js";
import { el, fill, key } from "../form/dom.js";
import { identityOf } from "../form/identity.js";
import { parse } from "../form/kinds.js";
import { say } from "../form/say.js";
import { settingOf } from "../form/today.js";
import { num } from "../live/num.js";
import { bigKey } from "./live-capture-dial.js";
import { answer, specOf } from "./live-capture-keep.js";
import { modePad, pulseSigns } from "./live-capture-choices.js";
import { keepReadBack, noteRead, readOf } from "./live-capture-read.js";
import { modelOf, onDial, stateOf } from "./live-capture-state.js";
import { wiringSheet } from "./live-capture-wiring.js";
import { policyOf } from "./tablet-remarks.js";

const SIGNS = ["7", "8", "9", "4", "5", "6", "1", "2", "3", ".", "0", "back"];
const LONGEST = 6;
/** @type {{[over: string]: string}} */
const UNITS = { output: "mA", output_v: "V", rate: "/min", sensitivity: "mV", pulse: "/min" };

/** @typedef {import("./tablet-panel.js").LiveTools} LiveTools */

/**
 * Draw what lies over the numbers: a keypad beside the number it fills, the modes, the
 * wiring. Who, standing row and rail stay in sight.
 * @param {HTMLElement} at
 * @param {Bedside} bed
 * @param {CaptureModel} model
 * @param {LiveTools} tools
 * @param {() => void} redraw
 */
export function drawOver(at, bed, model, { drafts }, redraw) {
  const { over } = stateOf(bed);
  const wasOpen = !at.hidden && at.dataset.of === over;
  at.hidden = !over;
  for (const area of at.parentElement?.children ?? []) area.toggleAttribute("inert", Boolean(over) && area !== at);
  at.dataset.of = over;
  if (!over) return at.replaceChildren();
  const title = say(`live.capture.over.${over}`);
  at.setAttribute("aria-label", title);
  const head = el("header", { class: "cap-over-head" }, el("p", {}, el("b", {}, title), el("span", {}, identityOf(bed.now).name)), null);
  const leave = key(say("live.capture.leave"), close, { "data-act": "over-close" });
  const body = over === "wiring" ? wiringSheet(bed, drafts) : over === "mode" ? modePad(bed, readOf(bed).mode ?? "", take) : [number(), pad()];
  fill(at, head, leave, ...body);
  if (!wasOpen) /** @type {HTMLElement | null} */ (at.querySelector("button:not([data-act='over-close'])"))?.focus({ preventScroll: true });
  // At 200 % the page is scrolled as one, and its top may be out of sight.
  if (!wasOpen) at.scrollIntoView({ block: "start" });
  at.onkeydown = typed;

  function close() {
    Object.assign(stateOf(bed), { over: "", typed: "" });
    redraw();
  }

  function number() {
    const { typed: figures } = stateOf(bed);
    const unit = over === "called" ? model.unit : (UNITS[over] ?? "");
    const seen = suggestions(bed, model, over).map(([from, value]) => seenKey(from, value, unit));
    const isAsync = over === "sensitivity" ? key(say("live.capture.asynchronous"), () => take("yes", "asynchronous"), { "data-act": "read-async" }) : null;
    return el(
      "div",
      { class: "cap-typing" },
      el("p", { class: "cap-typed", "data-not-yet": "" }, num(figures || "–", unit)),
      seen.length || isAsync ? el("div", { class: "cap-seen" }, ...seen, isAsync) : null,
      over === "pulse" ? pulseSigns(bed, drafts) : null,
    );
  }

  /** Whose number it is stands with it; nobody has read it yet. @param {string} from @param {string} value @param {string} unit */
  function seenKey(from, value, unit) {
    return bigKey([el("small", {}, say(`live.capture.seen.${from}`)), num(value, unit, { text: true })], () => take(value), { class: "key cap-seen-key", "data-act": `seen-${value}`, "data-not-yet": "" });
  }

  function pad() {
    const keys = SIGNS.map((sign) => key(sign === "back" ? say("keypad.back") : sign, () => press(sign), { "data-key": sign, "aria-label": sign === "back" ? say("keypad.back_spoken") : null }));
    return el("div", { class: "cap-pad" }, ...keys, key(say("live.capture.done"), () => take(stateOf(bed).typed), { "data-act": "pad-done", "data-weight": "first" }));
  }

  /** @param {string} sign */
  function press(sign) {
    const state = stateOf(bed);
    if (sign === "back") state.typed = state.typed.slice(0, -1);
    else if (state.typed.length < LONGEST && !(sign === "." && state.typed.includes("."))) state.typed += sign;
    redraw();
  }

  /** One number a key. @param {string} value @param {string} [name] */
  function take(value, name = over) {
    const text = value.replace(/\.$/, "").replace(/^\./, "0.");
    if (text) {
      const now = modelOf(bed);
      if (name === "called") Object.assign(stateOf(bed), { called: onDial(now, text), isConfirmed: true, isAsked: false });
      else if (name === "pulse") answer(bed, drafts, "capture.mechanical_rate", parse(specOf(bed, "capture.mechanical_rate"), text, null, settingOf(bed)), JSON.stringify({ ":qty": text }));
      else noteRead(bed, drafts, name, name === "output" || name === "output_v" ? onDial(now, text) : text);
    }
    close();
    const read = readOf(bed);
    if (read.mode && read.rate && (read.output || read.output_v) && (read.sensitivity || read.asynchronous)) void bed.during(keepReadBack(bed, drafts));
  }

  /** @param {KeyboardEvent} event */
  function typed(event) {
    if (event.key === "Escape") close();
    else if (over === "wiring" || over === "mode") return;
    else if (/^[0-9.]$/.test(event.key)) press(event.key);
    else if (event.key === ",") press(".");
    else if (event.key === "Backspace") press("back");
    else return;
    event.preventDefault();
  }
}

/**
 * Return what stands elsewhere as it would be keyed: what policy asks, what was called or
 * left last. Only keys: none of them is in the number until it is tapped.
 * @param {Bedside} bed
 * @param {CaptureModel} model
 * @param {string} over
 * @returns {[string, string][]} whose number, and the number
 */
function suggestions(bed, model, over) {
  const told = toldOf(bed.now.fold, policyOf(bed), null);
  const first = firstSettingsOf(bed.now.fold, told.limits);
  const sensing = bed.wire && over === "sensitivity" ? sensingSummary(told, bed.wire) : null;
  const shown = model.summary?.shown ?? {};
  const isOutput = over === "called" || over.startsWith("output");
  const last = model.last?.row.value;
  /** @type {{[from: string]: string | null | undefined}} */
  const all = isOutput
    ? { asks: over === "called" ? null : shown.asks, last: point(last?.output_v ?? last?.output, model.unit).n, left: shown.left_at, first: first?.output }
    : over === "rate"
      ? { first: first?.rate_low, first_high: first?.rate_high }
      : over === "sensitivity" ? { asks: sensing?.asks.sensitivity, left: sensing?.left_at, first: first?.sensitivity } : {};
  /** @type {Map<string, string>} */
  const found = new Map();
  for (const [from, value] of Object.entries(all)) {
    const text = typeof value === "string" && isOutput ? onDial(model, value) : value;
    if (typeof text === "string" && ![...found.values()].includes(text)) found.set(from, text);
  }
  return [...found];
}
