/** @import { Bedside } from "../types-form.js" */
import { el, fill, key, the } from "../form/dom.js";
import { say } from "../form/say.js";
import { linesOf, listOf, templateOf, titleOf } from "./tablet-spoken-lists.js";
import { drawOpenSpoken, showSpoken } from "./tablet-spoken-sheet.js";

/** @typedef {import("../form/unfinished.js").Drafts} Drafts */

/**
 * Draw the list that is open, and put the key that reads a list aloud at the head of its section, and on the live page of
 * Advance while no wire went in yet.
 * @param {Bedside} bed
 * @param {string} part
 * @param {import("./tablet-view.js").View} view
 * @param {Drafts} drafts
 */
export function drawSpokenKeys(bed, part, view, drafts) {
  drawOpenSpoken();
  const list = listOf(part);
  const isLive = list !== null && view === "live" && isBefore(bed, list);
  fill(the("#spoken-key"), isLive ? keyOf(bed, list, drafts) : null);
  const section = list && document.querySelector(`#part-${part} [data-path$=".${list.answered}"]`)?.closest("section");
  if (!list || !section || section.querySelector(".spoken-open")) return;
  section.querySelector(".form-section-title")?.after(keyOf(bed, list, drafts));
}

/** @param {Bedside} bed @param {import("./tablet-spoken-lists.js").SpokenList} list */
function isBefore(bed, list) {
  const at = (/** @type {string} */ name) => templateOf(bed, list, name).replace("*", bed.wire ?? "*");
  return bed.now.rows(at("depth_reading")).length === 0 && linesOf(bed, list).some(({ name }) => bed.now.answer(at(name)).state === "not_asked");
}

/** @param {Bedside} bed @param {import("./tablet-spoken-lists.js").SpokenList} list @param {Drafts} drafts */
function keyOf(bed, list, drafts) {
  const made = key("", () => showSpoken(the("#who-sheet"), bed, drafts, list), { class: "key spoken-open", "data-act": "spoken" });
  made.append(el("span", { class: "spoken" }, `${say("spoken.key_named", { title: titleOf(bed, list) })}`), el("span", { "aria-hidden": "true" }, say("spoken.key")));
  return made;
}
