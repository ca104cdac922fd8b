/** @import { Fold, JsonObject, Status } from "../types.js" */
/** @import { Bedside } from "../types-form.js" */
import { readCase } from "../form/case.js";
import { el } from "../form/dom.js";
import { identityOf } from "../form/identity.js";
import { say } from "../form/say.js";
import { noteText } from "./tablet-note.js";

/**
 * Draw the photos that the server did not take, each by what it shows and by its case.
 * All of them are kept here.
 * @param {Bedside} bed
 * @param {Status["photosRefused"]} refused
 * @returns {Promise<HTMLElement[]>}
 */
export async function photoLines(bed, refused) {
  if (!refused.length) return [];
  const items = await Promise.all(refused.map((one) => photoLine(bed, one)));
  return [el("h4", { class: "form-section-title" }, say("storage.photos")), el("ul", { class: "storage-list" }, ...items)];
}

/**
 * @param {Bedside} bed
 * @param {Status["photosRefused"][number]} refused
 */
async function photoLine(bed, { sealed, record, because }) {
  const fold = await bed.store.fold(record);
  const { name, place } = identityOf(readCase(fold, bed.index));
  const shows = captionOf(fold, sealed) || say("photo.plain");
  return el(
    "li",
    { class: "storage-item", "data-photo": sealed },
    el("p", {}, el("b", { class: "storage-typed" }, shows)),
    el("p", {}, noteText(because)),
    el("p", { class: "quiet" }, `${name}, ${say("who.case")} ${place}`),
  );
}

/**
 * @param {Fold} fold
 * @param {string} sealed
 * @returns {string} "" where the entry that names it says nothing, or was replaced
 */
function captionOf(fold, sealed) {
  const values = Object.values(fold.values).flatMap((heads) => heads.map(({ value }) => value));
  const rows = Object.values(fold.rows).flatMap((list) => list.flatMap(({ value }) => Object.values(value ?? {})));
  const named = [...values, ...rows].find((value) => /** @type {JsonObject | null} */ (value)?.sealed === sealed);
  return String(/** @type {JsonObject | undefined} */ (named)?.caption ?? "");
}
