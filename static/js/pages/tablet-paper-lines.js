/** @import { Json, JsonObject, Row } from "../types.js" */
/** @import { Bedside, FieldSpec } from "../types-form.js" */
import { el, svg } from "../form/dom.js";
import { elapsedWords } from "../form/elapsed.js";
import { plainPath } from "../form/fields.js";
import { say } from "../form/say.js";
import { momentMs } from "../form/standing.js";
import { stateOf } from "../form/state-of.js";
import { toldBy } from "../form/told.js";
import { isSaid } from "../form/typed.js";
import { complaintWords } from "../form/typed-words.js";
import { isObject } from "../form/verdicts.js";
import { words } from "../form/words.js";
import { check } from "../form/kinds.js";

/** So much of a photo's name tells it from any other on the tablet. */
const NAME_LETTERS = 12;

/**
 * Set out one answer, or two, each with who said it and how long before.
 * @param {Bedside} bed
 * @param {string} path
 * @param {FieldSpec | null} field
 * @returns {HTMLElement}
 */
export function answerLine(bed, path, field) {
  const heads = bed.now.fold.values[path] ?? [];
  const said = heads.map((head) => el("p", {}, ...valueOf(bed, path, field, head.value), " ", by(bed, head.entries)));
  const two = heads.length > 1 ? el("p", { class: "paper-mark" }, say("why.two_answers")) : null;
  const none = heads.length ? null : el("p", { class: "paper-mark" }, say("words.not_asked"));
  return paperLine(labelOf(bed, path, field), two, none, ...said);
}

/**
 * Set out the rows of a group, numbered; struck ones too, with who struck them and why.
 * @param {Bedside} bed
 * @param {string} path
 * @param {FieldSpec | null} field
 * @returns {HTMLElement[]}
 */
export function rowLines(bed, path, field) {
  const label = labelOf(bed, path, field);
  return (bed.now.fold.rows[path] ?? []).map((row, n) => {
    const struck = row.struck ? el("p", { class: "paper-mark" }, struckWords(bed, row)) : null;
    const cells = el("p", { "data-struck": row.struck ? "" : null }, ...cellsOf(bed, path, field, row), " ", by(bed, [row.id], row));
    return paperLine(say("paper.number", { label, number: n + 1 }), struck, cells);
  });
}

/**
 * Set out a line: what it is, and what was said of it.
 * @param {string} label
 * @param {...(HTMLElement | null)} said
 */
export function paperLine(label, ...said) {
  return el("div", { class: "paper-line" }, el("p", { class: "paper-label" }, label), el("div", { class: "paper-said" }, ...said));
}

/** @param {Bedside} bed @param {string} path @param {FieldSpec | null} field */
function labelOf(bed, path, field) {
  return field?.label ?? bed.now.index.top(plainPath(path))?.label ?? path;
}

/**
 * @param {Bedside} bed
 * @param {string} path
 * @param {FieldSpec | null} field
 * @param {Json} value
 * @returns {(HTMLElement | SVGElement | string)[]}
 */
function valueOf(bed, path, field, value) {
  const isOdd = !field || check(field, value).state === "illegal";
  const told = isOdd ? complaintWords(bed.now.index, { path, value, op: "set" }).typed : words(field, value);
  const shown = el("b", {}, photoWords(field, value, told));
  const mark = field && stateOf(field, value) === "impossible" ? [" ", el("i", { class: "paper-mark" }, say("paper.impossible"))] : [];
  const drawn = field?.kind === "drawing" && isObject(value) && Array.isArray(value.strokes) ? [" ", drawing(value)] : [];
  return [shown, ...mark, ...drawn];
}

/** @param {FieldSpec | null} field @param {Json} value @param {string} told */
function photoWords(field, value, told) {
  const isPhoto = field?.kind === "photo" && isObject(value) && isSaid(value.sealed);
  return isPhoto ? say("paper.photo", { words: told, name: String(value.sealed).slice(0, NAME_LETTERS) }) : told;
}

/** @param {JsonObject} value */
function drawing({ width, height, strokes }) {
  const points = (/** @type {any} any: strokes of whatever shape */ stroke) => (Array.isArray(stroke) ? stroke.map((at) => [].concat(at).join(",")).join(" ") : "");
  const lines = /** @type {Json[]} */ (strokes).map((stroke) => svg("polyline", { points: points(stroke), fill: "none", stroke: "currentColor", "stroke-width": 3, "stroke-linecap": "round" }));
  return svg("svg", { class: "paper-drawing", viewBox: `0 0 ${Number(width) || 1} ${Number(height) || 1}`, role: "img", "aria-label": say("words.drawing") }, ...lines);
}

/**
 * A row's answers, each after its name; what the catalogue does not know stands as it is.
 * @param {Bedside} bed
 * @param {string} path
 * @param {FieldSpec | null} field
 * @param {Row} row
 */
function cellsOf(bed, path, field, { value }) {
  if (!isObject(value)) return valueOf(bed, path, null, value);
  const children = field?.children ?? [];
  const known = children.filter(({ name }) => Object.hasOwn(value, name));
  const other = Object.keys(value).filter((name) => name !== "of" && !children.some((child) => child.name === name));
  const parent = isSaid(value.of) ? [say("paper.of_row", { row: rowName(bed, String(value.of)) })] : [];
  const cells = [
    ...known.map((child) => ({ label: child.label, child, said: value[child.name] ?? null })),
    ...other.map((name) => ({ label: name, child: null, said: value[name] ?? null })),
  ];
  return [...parent, ...cells.flatMap(({ label, child, said }) => [el("span", { class: "paper-cell" }, `${label} `, ...valueOf(bed, `${path}.${label}`, child, said)), " "])];
}

/** Name a row as it is numbered here. @param {Bedside} bed @param {string} id */
function rowName(bed, id) {
  const path = bed.now.fold.entries[id]?.path ?? "";
  const place = (bed.now.fold.rows[path] ?? []).findIndex((row) => row.id === id);
  const label = labelOf(bed, path, bed.now.index.at(path)?.field ?? null);
  return place < 0 ? id : say("paper.number", { label, number: place + 1 });
}

/** @param {Bedside} bed @param {Row} row */
function struckWords(bed, { struck }) {
  const name = bed.now.fold.entries[struck?.by ?? ""]?.author.name || say("told.nobody");
  const reason = isSaid(struck?.reason) ? String(struck?.reason) : "";
  return reason ? say("row.struck_because", { by: name, reason }) : say("row.struck", { by: name });
}

/**
 * Who said it, when, and how long before this copy was made.
 * @param {Bedside} bed
 * @param {string[]} entries
 * @param {Row} [row] its own moment counts for its age, where it has one
 */
function by(bed, entries, row) {
  const told = entries.flatMap((id) => {
    const meta = bed.now.fold.entries[id];
    if (!meta) return [];
    const ms = (isObject(row?.value) ? momentMs(row.value.moment) : null) ?? meta.time_ms;
    return [`${toldBy(meta, "")} · ${elapsedWords(Math.floor((bed.clock() - ms) / 1000))}`];
  });
  return el("small", { class: "paper-by" }, told.join("; "));
}
