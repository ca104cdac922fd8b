/** @import { Fold, Json, Meta } from "../types.js" */
/** @import { CaseRead } from "../types-form.js" */
import { el } from "./dom.js";
import { isUtc, offsetOf } from "./instants.js";
import { say } from "./say.js";
import { momentWords, words } from "./words.js";

/**
 * Return when an entry was made, as a clock here shows it, and who made it.
 * @param {Meta} meta
 * @param {string} today
 * @returns {string}
 */
export function toldBy(meta, today) {
  const author = nameOf(meta.author.name, meta.author.role);
  const parts = [entryTime(meta, today), author];
  if (meta.entered_by.name && meta.entered_by.name !== meta.author.name) parts.push(say("told.entered_by", { name: meta.entered_by.name }));
  if (meta.called_by?.name) parts.push(say("told.called_by", { name: meta.called_by.name }));
  if (meta.source !== "seen") parts.push(say(`told.source.${meta.source}`));
  return parts.join(" · ");
}

/**
 * Return the time of day an entry was made at, with its day when that is not today.
 * @param {Meta} meta
 * @param {string} today
 * @returns {string}
 */
export function entryTime(meta, today) {
  // A clock that broke may have written anything: the entry stands, its time does not.
  if (!isUtc(meta.at.utc)) return say("told.no_time");
  return momentWords({ ...meta.at, offset_min: offsetOf(meta.at), skew_ms: null, certainty: "exact", clock: "tablet" }, today);
}

/**
 * List every entry of a path, latest first: who, when, and what stands now.
 * @param {CaseRead} now
 * @param {string} path
 * @param {string} today
 * @returns {HTMLElement}
 */
export function history(now, path, today) {
  const field = now.index.at(path)?.field;
  const standing = new Map((now.fold.values[path] ?? []).flatMap((head) => head.entries.map((id) => [id, head.value])));
  const items = (idsByPath(now.fold).get(path) ?? []).toReversed().map((id) => item(now, id, field ? standing.get(id) : undefined, field, today));
  const list = items.length ? items : [el("li", { class: "quiet" }, say("told.nobody_yet"))];
  return el("div", { class: "history" }, el("p", { class: "more-title" }, say("told.title")), el("ol", {}, ...list));
}

/** @type {WeakMap<Fold, Map<string, string[]>>} a fold never changes; each field of a page asks */
const known = new WeakMap();

/**
 * @param {Fold} fold
 * @returns {Map<string, string[]>} the entries of each path, in order
 */
function idsByPath(fold) {
  const standing = known.get(fold);
  if (standing) return standing;
  /** @type {Map<string, string[]>} */
  const found = new Map();
  for (const id of fold.order) {
    const path = fold.entries[id]?.path ?? "";
    const own = found.get(path);
    if (own) own.push(id);
    else found.set(path, [id]);
  }
  known.set(fold, found);
  return found;
}

/**
 * @param {CaseRead} now
 * @param {string} id
 * @param {Json | undefined} value
 * @param {import("../types-form.js").FieldSpec | undefined} field
 * @param {string} today
 */
function item(now, id, value, field, today) {
  const meta = now.fold.entries[id];
  if (!meta) return el("li");
  const said = field && value !== undefined ? words(field, value, today) : say(`told.op.${meta.op}`);
  return el("li", {}, el("b", {}, said), " ", el("small", {}, toldBy(meta, today)));
}

/** @param {string} name @param {string} role */
function nameOf(name, role) {
  if (!name) return say("told.nobody");
  return role ? say("told.name_role", { name, role }) : name;
}
