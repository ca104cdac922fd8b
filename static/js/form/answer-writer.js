/** @import { Json } from "../types.js" */
/** @import { Bedside, FieldSpec } from "../types-form.js" */
import { isAbsence } from "./controls.js";
import { words } from "./words.js";

/** @type {Json} */
const NOT_ASKED = { absent: "not_asked" };

/**
 * @typedef {object} AnswerWriter
 * @property {() => string} place the record's path of the field, as the page stands
 * @property {() => void} begin somebody begins to type: what arrives from now on is unseen
 * @property {(value: Json, raw: string) => void} commit null: nothing is said any more
 * @property {() => Promise<void>} settled once everything committed is kept or refused
 * @property {() => boolean} isWriting
 * @property {() => Json | undefined} standing what the record says, or is about to; undefined: two answers
 */

/**
 * Write one field's answers in turn: the second waits for the first, so that a quick
 * hand never gives two answers to itself.
 * @param {string} template path in the catalogue, a star for the wire
 * @param {FieldSpec} field
 * @param {Bedside} bed
 * @param {import("./unfinished.js").Drafts} drafts
 * @param {(isKept: boolean) => void} onDone
 * @returns {AnswerWriter}
 */
export function openAnswer(template, field, bed, drafts, onDone) {
  /** @type {{at: string, value: Json, id: string | null} | null} */
  let last = null;
  /** @type {{at: string, id: string} | null} */
  let kept = null;
  /** @type {{at: string, entries: string[]} | null} */
  let begun = null;
  let [busy, waiting] = [Promise.resolve(), 0];
  const place = () => (bed.wire ? template.replace("*", bed.wire) : template);
  const at = (/** @type {string} */ path) => `${bed.record} ${path}`;

  /** @param {string[]} entries what stood there when the hand began; a second letter begins nothing */
  function begin(entries) {
    if (begun?.at !== at(place())) begun = { at: at(place()), entries };
  }

  /** What the record says, or is about to: our own latest word may not be folded yet. */
  function standing() {
    if (last && last.at === at(place()) && !(last.id && bed.now.fold.entries[last.id])) return last.value;
    const { heads, value } = bed.now.answer(place());
    return heads.length === 1 ? value : heads.length ? undefined : null;
  }

  /** @param {Json} value @param {string} draftAt @param {string} raw @param {string[] | null} shown */
  async function write(value, draftAt, raw, shown) {
    const path = await bed.pathFor(template);
    const seen = [...new Set([...(shown ?? bed.now.answer(path).entries), ...(kept?.at === at(path) ? [kept.id] : [])])];
    drafts.forget(draftAt);
    const said = { label: field.label, words: words(field, value) };
    const here = at(path);
    // Also where it is kept by a later try: the next answer has seen it.
    const id = await bed.keep({ path, op: "set", value, seen, clears: draftAt }, said, { kept: (made) => (kept = { at: here, id: made }) });
    if (!id) {
      drafts.putBack(draftAt, raw);
      begin(seen);
    }
    if (last?.value === value) last = id ? { at: at(path), value, id } : null;
    return id !== null;
  }

  /** @param {boolean} isKept */
  function finished(isKept) {
    waiting -= 1;
    onDone(isKept);
    if (!waiting) bed.refresh();
  }

  return {
    place,
    settled: () => busy,
    isWriting: () => waiting > 0,
    standing,
    begin: () => begin(bed.now.answer(place()).entries),
    commit(value, raw) {
      const shown = begun?.at === at(place()) ? begun.entries : null;
      begun = null;
      const was = standing();
      const next = value ?? (was === null || isAbsence(was ?? null) ? null : NOT_ASKED);
      const draftAt = place();
      if (next === null || JSON.stringify(next) === JSON.stringify(was)) {
        drafts.drop(draftAt);
        return onDone(true);
      }
      waiting += 1;
      const run = busy.then(() => write(next, draftAt, raw, shown));
      last = { at: at(draftAt), value: next, id: null };
      busy = run.then(finished, () => finished(false));
    },
  };
}
