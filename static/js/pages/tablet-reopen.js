/** @import { Bedside } from "../types-form.js" */
import { plainPath } from "../form/fields.js";
import { ROW_DRAFT } from "../form/row-sheet.js";
import { reopenStrike } from "../form/strike-line.js";

/**
 * Tell on what was being told when the power went: a row on its sheet, the reason of a
 * strike beside its row.
 * @param {Bedside} bed
 * @param {import("../form/part-view.js").PartView} view
 * @param {ReturnType<typeof import("../form/row-sheet.js").rowSheet>} sheet
 * @param {{[path: string]: string}} drafted
 */
export function reopen(bed, view, sheet, drafted) {
  for (const [path, text] of Object.entries(drafted)) {
    reopenStrike(path, text);
    const place = path.endsWith(ROW_DRAFT) ? path.slice(0, -ROW_DRAFT.length) : "";
    const form = view.groupForm(plainPath(place));
    if (!form || sheet.isOpen() || !isOfThisWire(bed, place)) continue;
    const { of, raw } = JSON.parse(text);
    sheet.show(form, of, raw);
  }
}

/** @param {Bedside} bed @param {string} place */
function isOfThisWire(bed, place) {
  return !place.startsWith("wires/") || place.startsWith(`wires/${bed.wire ?? "*"}/`);
}
