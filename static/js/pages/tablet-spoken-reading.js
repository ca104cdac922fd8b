/** @import { Json } from "../types.js" */
/** @import { Bedside, FieldSpec } from "../types-form.js" */
import { openAnswer } from "../form/answer-writer.js";
import { exactMoment } from "../log/clock.js";
import { linesOf, templateOf } from "./tablet-spoken-lists.js";

/** As long as a line must stand before it counts as shown: clinical.md 21, "All at once". */
const SHOWN_MS = 500;
/** As long as a line stands while the list is read through. */
const READ_MS = 1500;

/**
 * @typedef {object} Reading A list being read aloud.
 * @property {FieldSpec[]} lines
 * @property {() => number} place
 * @property {(name: string) => boolean} isAnswered
 * @property {(name: string) => boolean} isShown long enough to be read
 * @property {() => FieldSpec[]} open the lines without an answer
 * @property {(place: number) => void} show
 * @property {() => void} readOn show a line after the other, until the last or a tap
 * @property {(value: Json, by?: string[]) => void} answer the line in sight, and go on
 * @property {() => void} answerAll yes to every line without an answer
 * @property {() => void} end
 */

/**
 * Begin to read a list aloud. Each line is its own field with its own entry, and how the
 * lines were answered is one more.
 * @param {Bedside} bed
 * @param {import("../form/unfinished.js").Drafts} drafts
 * @param {import("./tablet-spoken-lists.js").SpokenList} list
 * @param {() => void} onChange
 * @returns {Reading}
 */
export function readingOf(bed, drafts, list, onChange) {
  const lines = linesOf(bed, list);
  /** @type {Set<string>} answered here, it may not be folded yet */
  const told = new Set();
  /** @type {Set<string>} */
  const shown = new Set();
  /** @type {Map<string, import("../form/answer-writer.js").AnswerWriter>} */
  const writers = new Map();
  let [place, timer, isReading, isAll] = [0, 0, false, false];
  const state = (/** @type {string} */ name) => bed.now.answer(writer(name).place()).state;
  const isAnswered = (/** @type {string} */ name) => told.has(name) || state(name) !== "not_asked";
  const open = () => lines.filter(({ name }) => !isAnswered(name));

  /** @param {string} name */
  function writer(name) {
    const known = writers.get(name);
    if (known) return known;
    const field = /** @type {FieldSpec} */ (bed.index.at(`${list.part}.${name}`)?.field);
    const made = openAnswer(templateOf(bed, list, name), field, bed, drafts, (isKept) => done(name, isKept));
    writers.set(name, made);
    return made;
  }

  /** @param {string} name @param {Json} value */
  function write(name, value) {
    const made = writer(name);
    made.commit(value, "{}");
    void bed.during(made.settled());
  }

  /** What was not kept stays in sight. @param {string} name @param {boolean} isKept */
  function done(name, isKept) {
    if (isKept) told.add(name);
    if (isKept && name === lines[place]?.name) goOn();
    const isWhole = lines.every((line) => isAnswered(line.name));
    if (isKept && lines.some((line) => line.name === name) && isWhole && !isAll && !isAnswered(list.answered)) write(list.answered, "one_by_one");
    onChange();
  }

  function goOn() {
    const after = [...lines.slice(place + 1), ...lines.slice(0, place)].find(({ name }) => !isAnswered(name));
    if (after) show(lines.indexOf(after));
  }

  function stampMoment() {
    if (list.moment && !isAnswered(list.moment)) write(list.moment, exactMoment(bed.clock(), bed.store.zone()));
  }

  /** @param {number} next */
  function show(next) {
    place = Math.min(Math.max(next, 0), lines.length - 1);
    clearTimeout(timer);
    timer = setTimeout(seen, SHOWN_MS);
    onChange();
  }

  function seen() {
    shown.add(lines[place]?.name ?? "");
    if (isReading) timer = setTimeout(turn, READ_MS - SHOWN_MS);
    onChange();
  }

  function turn() {
    if (place + 1 < lines.length) return show(place + 1);
    // An answer still being kept went on before its line had stood there.
    const missed = lines.findIndex(({ name }) => !shown.has(name));
    if (missed < 0) isReading = false;
    else show(missed);
  }

  return {
    lines,
    place: () => place,
    isAnswered,
    isShown: (name) => shown.has(name),
    open,
    show(next) {
      isReading = false;
      show(next);
    },
    readOn() {
      isReading = true;
      const first = lines.findIndex(({ name }) => !shown.has(name));
      show(first < 0 ? 0 : first);
    },
    answer(value, by) {
      isReading = false;
      stampMoment();
      if (by) write(list.by, by);
      write(String(lines[place]?.name), value);
    },
    answerAll() {
      [isReading, isAll] = [false, true];
      stampMoment();
      write(list.answered, "all_at_once");
      for (const { name } of open()) write(name, "yes");
    },
    end: () => clearTimeout(timer),
  };
}
