/** @typedef {import("./live-advance.js").Advance} Advance */
import { balloonTold, lastState } from "../clinical/balloon.js";
import { el, fill, key, the } from "../form/dom.js";
import { wirePath } from "../form/fields.js";
import { say } from "../form/say.js";
import { timedRows } from "../form/standing.js";
import { lead } from "../live/lead.js";
import { sizeOf } from "../live/size.js";
import { ALONE_MS, isOffered } from "./live-advance-call.js";
import { keepAlone } from "./live-advance-grid.js";
import { keepRow, strikeReading } from "./live-advance-keep.js";

const LISTED = 4;
/** px of a line of the list */
const LINE = 23;
const BALLOON = ["up", "down"];
const ECTOPY = ["none", "some", "runs"];

/**
 * Draw what stands beside a reading: balloon, ectopy, what is told at once, the last
 * readings and the keys for the last of them.
 * @param {HTMLElement} at
 * @param {Advance} page
 */
export function drawSide(at, page) {
  const state = balloon(page);
  fill(the(".adv-balloon", at), el("p", { class: "panel-ask" }, balloonWords(state)), states(page, "balloon", "state", BALLOON, state));
  const amount = ectopy(page);
  fill(the(".adv-ectopy", at), el("p", { class: "panel-ask" }, say("advance.ectopy")), states(page, "ectopy", "amount", ECTOPY, amount));
  fill(the(".adv-danger", at), danger(page, "vt_vf"), danger(page, "resistance"));
  const listed = the(".adv-list", at);
  fill(listed, ...list(page, sizeOf(listed, page.redraw).height));
  fill(the(".adv-keys", at), keepKey(page), photoKey(page), strikeKey(page));
}

/** @param {Advance} page */
function balloon({ bed }) {
  return bed.wire ? lastState(balloonTold(bed.now.fold, bed.wire))?.state ?? "" : "";
}

/** @param {string} state */
function balloonWords(state) {
  return BALLOON.includes(state) ? say("advance.balloon") : say("advance.balloon_is", { state: say(`advance.balloon.${state || "unsaid"}`) });
}

/** @param {Advance} page */
function ectopy({ bed }) {
  const last = bed.wire ? timedRows(bed.now, [wirePath(bed.wire, "advance.ectopy")]).at(-1) : null;
  return String(last?.row.value.amount ?? "");
}

/**
 * Joined keys of one state, the true one filled; each tap is an entry, and a wrong one is
 * put right by the other.
 * @param {Advance} page
 * @param {string} group
 * @param {string} name
 * @param {string[]} codes
 * @param {string} state
 */
function states({ bed }, group, name, codes, state) {
  const keys = codes.map((code) =>
    key(say(`advance.${group}.${code}`), () => void keepRow(bed, group, { [name]: code }), {
      "data-act": `${group}-${code}`, "aria-pressed": String(code === state),
    }),
  );
  return el("div", { class: "pair" }, ...keys);
}

/** @param {Advance} page @param {string} group */
function danger({ bed }, group) {
  const made = key("", () => void keepRow(bed, group, {}), { "data-act": group, "data-danger": "" });
  made.append(lead("look_now"), say(`advance.${group}`));
  return made;
}

/** Whole lines only: where fewer have room, one of them says how many came earlier. @param {Advance} page @param {number} height px */
function list({ all }, height) {
  const room = Math.min(LISTED, Math.max(2, Math.floor(height / LINE)));
  const count = room === LISTED || room >= all.length ? room : room - 1;
  const shown = all.slice(-count).reverse();
  const items = shown.map(({ time, said, result, isStruck }) =>
    el("li", { "data-struck": isStruck ? "" : null }, el("time", {}, time), el("b", {}, said), el("span", {}, isStruck ? say("advance.in_error") : result)),
  );
  const more = all.length - shown.length;
  return more ? [...items, el("li", { "data-more": "" }, say("list.earlier", { count: more }))] : items;
}

/** What is kept after all stands far from what strikes. @param {Advance} page */
function keepKey(page) {
  const { bed, call, all } = page;
  const last = all.at(-1);
  if (call.depth !== null || !last?.isStruck) {
    const isNow = isOffered(call, bed.clock());
    const words = call.depth === null ? say("advance.keep_alone_none") : say("advance.keep_alone", { cm: call.depth });
    const how = isNow ? say("advance.keep_alone.now") : say("advance.keep_alone.later", { s: ALONE_MS / 1000 });
    const made = key("", () => void keepAlone(page), { "data-act": "keep-alone", disabled: !isNow });
    made.append(el("span", {}, `${words} `), el("small", {}, how));
    return made;
  }
  const words = say("advance.keep_after_all", { said: named(last) });
  return key(words, () => strike(page, last.id), { "data-act": "keep-after-all", "data-entry": last.id });
}

/** @param {Advance} page */
function photoKey({ tools }) {
  return key(say("advance.photo"), () => tools.add("advance.depth_reading"), { "data-act": "photo" });
}

/** @param {Advance} page */
function strikeKey(page) {
  const last = page.all.findLast((reading) => !reading.isStruck);
  const words = last ? say("advance.strike", { said: named(last) }) : say("advance.strike_none");
  return key(words, () => last && strike(page, last.id), { "data-act": "strike-last", "data-entry": last?.id, disabled: !last });
}

/** @param {Advance} page @param {string} id */
function strike({ bed }, id) {
  const row = bed.wire ? bed.now.rows(wirePath(bed.wire, "advance.depth_reading"), true).find((one) => one.id === id) : null;
  if (row) void strikeReading(bed, row);
}

/** @param {import("./live-advance.js").DepthReading} reading */
function named({ said, result }) {
  return said === "–" ? result : said;
}
