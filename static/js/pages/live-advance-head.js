/** @typedef {import("./live-advance.js").Advance} Advance */
import { el, fill, key, the } from "../form/dom.js";
import { say } from "../form/say.js";
import { num } from "../live/num.js";
import { ask } from "./live-advance-call.js";
import { choiceWord, guideOf, pWavesWords } from "./live-advance-guide.js";
import { age } from "./tablet-panels.js";

const NOT_READ = "–";
const NOT_SEEN_YET = "…";
/** Letters of a word that still fits at its size: the largest, the next, then small. */
const SIZES = [10, 13, 22];

/**
 * Draw the depth and what was seen there: those of one reading, or the depth called and
 * nothing seen yet.
 * @param {HTMLElement} at
 * @param {HTMLElement} line what is asked next
 * @param {Advance} page
 */
export function drawHead(at, line, page) {
  fill(the(".adv-depth", at), ...depth(page));
  fill(the(".adv-shown", at), ...shown(page));
  fill(the(".adv-once", at), ...once(page));
  fill(line, asked(page));
}

/** @param {Advance} page */
function depth({ bed, call, last }) {
  const isCalled = call.depth !== null || call.asked === "digits";
  const name = el("p", { class: "panel-ask" }, say(!isCalled && last && !last.atHub ? "depth.elsewhere" : "depth.at_hub"));
  const typed = call.asked === "digits" ? `${call.digits}${"·".repeat(2 - call.digits.length)}` : "";
  const figure = typed || (isCalled ? call.depth : last?.cm);
  const value = figure ? num(String(figure), "cm") : el("b", {}, NOT_READ);
  const told = !isCalled && last && !last.cm ? el("p", { class: "adv-told" }, last.said) : null;
  const since = isCalled ? say("advance.not_kept_yet") : last ? age(bed, last.ms) : say("depth.none");
  return [name, told ?? el("div", { class: "panel-number", "data-called": isCalled ? "" : null, "data-long": (figure?.length ?? 0) > 2 ? "" : null }, value), el("p", { class: "adv-said" }, since)];
}

/** @param {Advance} page */
function shown(page) {
  const { call, last } = page;
  const isCalled = call.depth !== null || call.asked === "digits";
  const word = isCalled ? NOT_SEEN_YET : last ? wordOf(page) || NOT_SEEN_YET : NOT_READ;
  const size = SIZES.findIndex((letters) => word.length <= letters);
  const isContact = !isCalled && last?.code === "rv_contact";
  return [
    el("p", { class: "panel-ask" }, say(isContact ? "advance.seen_st" : "advance.seen")),
    el("p", { class: "panel-word", "data-size": size === -1 ? SIZES.length : size }, word),
  ];
}

/** @param {Advance} page */
function wordOf({ bed, last }) {
  return last?.code ? choiceWord(bed, "depth_reading", last.code) : last?.result ?? "";
}

/** @param {Advance} page */
function once(page) {
  const { bed, call } = page;
  const guide = guideOf(bed, call);
  return [
    two(page, "guide", say("advance.guided_by"), guide ? choiceWord(bed, "guided_by", guide) : say("words.not_asked")),
    two(page, "p_waves", say("advance.p_waves"), pWavesWords(bed)),
  ];
}

/** @param {Advance} page @param {"guide" | "p_waves"} what @param {string} name @param {string} value */
function two({ call, redraw }, what, name, value) {
  const tap = () => {
    ask(call, call.asked === what ? "results" : what);
    redraw();
  };
  const made = key("", tap, { "data-act": `ask-${what}`, "aria-expanded": String(call.asked === what) });
  made.append(el("small", {}, `${name} `), el("b", {}, value));
  return made;
}

/** @param {Advance} page */
function asked({ bed, call }) {
  if (call.said) return say(call.said);
  if (call.asked !== "results") return say(`advance.ask.${call.asked}`);
  if (!guideOf(bed, call)) return say("advance.ask.guide");
  if (call.depth === null) return say("advance.ask.depth");
  return say(call.isTyped ? "advance.ask.result_typed" : "advance.ask.result", { cm: call.depth });
}
