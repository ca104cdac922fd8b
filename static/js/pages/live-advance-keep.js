/** @import { Json, JsonObject } from "../types.js" */
/** @import { Bedside, RowRead } from "../types-form.js" */
import { wirePath } from "../form/fields.js";
import { struck } from "../form/keep.js";
import { keepAt, keepRow as keepWireRow } from "../form/keep-row.js";
import { shortWords } from "../form/row-words.js";
import { say } from "../form/say.js";
import { settingOf } from "../form/today.js";
import { words } from "../form/words.js";
import { exactMoment } from "../log/clock.js";

/**
 * Keep a row of Advance with its moment.
 * @param {Bedside} bed
 * @param {string} group
 * @param {JsonObject} said
 * @param {number} [ms] when it was, Unix milliseconds; now unless said
 * @returns {Promise<string | null>} its entry; null: not kept, and said so
 */
export function keepRow(bed, group, said, ms = bed.clock()) {
  const template = `wires/*/advance.${group}`;
  const field = bed.index.at(`advance.${group}`)?.field;
  const value = { ...said, moment: exactMoment(ms, bed.store.zone()) };
  const told = field ? { label: field.label, words: shortWords(field, value, settingOf(bed).today) } : { label: group, words: "" };
  return kept(bed, async () => (await keepWireRow(bed, template, value, told))?.id ?? null);
}

/**
 * Keep one answer of Advance, in place of what stands there now.
 * @param {Bedside} bed
 * @param {string} name
 * @param {Json} value
 */
export function keepAnswer(bed, name, value) {
  const field = bed.index.at(`advance.${name}`)?.field;
  const told = { label: field?.label ?? name, words: field ? words(field, value) : "" };
  const entryAt = (/** @type {string} */ path) => ({ path, op: /** @type {const} */ ("set"), value, seen: bed.now.answer(path).entries });
  return kept(bed, async () => (await keepAt(bed, `wires/*/advance.${name}`, entryAt, told))?.id ?? null);
}

/**
 * Strike a depth reading, or the strike that took it out.
 * @param {Bedside} bed
 * @param {RowRead} row
 */
export function strikeReading(bed, row) {
  const path = wirePath(String(bed.wire), "advance.depth_reading");
  const field = bed.index.at(path)?.field;
  const name = field ? shortWords(field, row.value, settingOf(bed).today) : "";
  const told = { label: field?.label ?? "", words: name };
  const said = row.struck ? { ...told, words: say("advance.kept_after_all", { words: name }) } : struck(told);
  return kept(bed, () => bed.keep({ path, op: "strike", value: { strikes: row.struck?.by ?? row.id, reason: null } }, said));
}

/** @param {Bedside} bed @param {() => Promise<string | null>} write */
function kept(bed, write) {
  return bed.during(write().finally(() => bed.drawSoon()));
}
