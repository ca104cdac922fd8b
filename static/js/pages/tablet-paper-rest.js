/** @import { Complaint, Status } from "../types.js" */
/** @import { Bedside } from "../types-form.js" */
import { el } from "../form/dom.js";
import { plainPath } from "../form/fields.js";
import { ROW_DRAFT } from "../form/row-sheet.js";
import { say } from "../form/say.js";
import { complaintWords } from "../form/typed-words.js";
import { visible } from "../form/typed.js";
import { momentWords } from "../form/words.js";
import { exactMoment } from "../log/clock.js";
import { noteText } from "./tablet-note.js";
import { paperLine } from "./tablet-paper-lines.js";

/**
 * Set out what was written here and does not count at the server: as typed, and why.
 * @param {Bedside} bed
 * @param {Status} status
 * @returns {(HTMLElement | null)[]}
 */
export function uncountedBlocks(bed, { setAside, conflicts, refused, erased }) {
  const own = (/** @type {Complaint[]} */ list) => list.filter(({ record }) => record === bed.record);
  // An erased entry's words stand nowhere any more.
  const blank = own(erased).map((one) => ({ ...one, value: "", because: say("storage.erased_because") }));
  return [
    list(bed, say("storage.set_aside"), own(setAside)),
    list(bed, say("storage.conflict"), own(conflicts)),
    list(bed, say("storage.refused"), own(refused)),
    list(bed, say("storage.erased"), blank),
  ];
}

/** @param {Bedside} bed @param {string} title @param {Complaint[]} complaints */
function list(bed, title, complaints) {
  if (!complaints.length) return null;
  const lines = complaints.map((complaint) => {
    const { label, typed } = complaintWords(bed.index, complaint);
    const time = complaint.ms === null ? "" : momentWords(exactMoment(complaint.ms, bed.store.zone()));
    const why = el("p", {}, say("paper.not_counted", { because: noteText(complaint.because) }), " ", el("small", { class: "paper-by" }, time));
    return paperLine(label, el("p", {}, el("b", {}, typed)), why);
  });
  return el("section", { class: "paper-part" }, el("h2", {}, title), ...lines);
}

/**
 * Set out what somebody began to type and nobody has kept yet.
 * @param {Bedside} bed
 * @param {{[path: string]: string}} drafts
 * @returns {HTMLElement | null}
 */
export function unfinishedBlock(bed, drafts) {
  const lines = Object.entries(drafts).flatMap(([path, text]) => {
    const place = path.split("#")[0] ?? path;
    const field = bed.index.at(plainPath(place))?.field;
    const said = field ? saidIn(path.endsWith(ROW_DRAFT) ? rawIn(text) : text) : "";
    return field && said ? [paperLine(field.label, el("p", {}, said))] : [];
  });
  return lines.length ? el("section", { class: "paper-part" }, el("h2", {}, say("paper.unfinished")), ...lines) : null;
}

/** @param {string} text a row's draft holds the row's own */
function rawIn(text) {
  return String(parsed(text).raw ?? "");
}

/** @param {string} raw */
function saidIn(raw) {
  return visible(Object.values(parsed(raw)).filter((said) => typeof said === "string" && said).join("; "));
}

/** @param {string} text @returns {{[name: string]: unknown}} */
function parsed(text) {
  try {
    const told = JSON.parse(text);
    return typeof told === "object" && told !== null ? told : {};
  } catch {
    return {};
  }
}
