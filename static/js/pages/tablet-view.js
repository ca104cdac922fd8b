/** @import { Bedside } from "../types-form.js" */
import { fill, key, the } from "../form/dom.js";
import { say } from "../form/say.js";
import { debriefKey } from "./rehearsal-debrief.js";
import { farKey } from "./tablet-far.js";

const LIVE_PARTS = ["advance", "capture"];
const FAR_PARTS = [...LIVE_PARTS, "checks"];

/** @typedef {"live" | "fields"} View live: the numbers and keys alone; fields: every question of the part */

/** @type {View} what the hand at this tablet chose last; it holds for both live parts */
let chosen = "live";

/**
 * Return how a part is shown. A field that is asked for by its address is shown among
 * the fields.
 * @param {import("./tablet-route.js").Route} route
 * @param {string} part
 * @returns {View}
 */
export function viewOf(route, part) {
  return LIVE_PARTS.includes(part) && !route.path ? chosen : "fields";
}

/**
 * Show the view, and the key to the other one where there are two; to the far view, and to how a rehearsal went.
 * @param {Bedside} bed
 * @param {string} part
 * @param {View} view
 */
export function showView(bed, part, view) {
  // Told to the boxes they stand in: a style that looked for them would be worked out anew with every key drawn.
  the("#work").dataset.view = the("#case").dataset.view = view;
  the("#work").dataset.shows = part;
  the("#case").toggleAttribute("data-far", FAR_PARTS.includes(part));
  const other = view === "live" ? "fields" : "live";
  const isTwofold = LIVE_PARTS.includes(part);
  fill(the("#view-key"), isTwofold ? key(say(`view.${other}`), () => choose(bed, other), { "data-act": `view-${other}` }) : null, FAR_PARTS.includes(part) ? farKey(bed) : null, part === "finish" ? debriefKey(bed) : null);
}

/** @param {Bedside} bed @param {View} view */
function choose(bed, view) {
  chosen = view;
  // An address that asks for a field would keep the fields in sight.
  location.hash = location.hash.split("?")[0] ?? "";
  bed.isStale = true;
  bed.refresh();
}
