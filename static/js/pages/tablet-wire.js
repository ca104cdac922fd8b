/** @import { Bedside } from "../types-form.js" */
import { readCase } from "../form/case.js";
import { exactMoment } from "../log/clock.js";
import { say } from "../form/say.js";

/**
 * Return what turns a catalogue path into the record's own. The first field of a wire
 * brings the wire with it, once, however many fields ask at the same time. What is tried
 * again may be of a case that is not open.
 * @param {Bedside} bed
 * @returns {Bedside["pathFor"]}
 */
export function makePathFor(bed) {
  /** @type {Map<string, Promise<string | null>>} */
  const making = new Map();
  return async (template, given = {}) => {
    if (!template.includes("*")) return template;
    const { record = bed.record } = given;
    const now = record === bed.record ? bed.now : readCase(await bed.store.fold(record), bed.index);
    const standing = record === bed.record ? bed.wire : (now.wires.at(-1)?.id ?? null);
    const wire = standing ?? (await (making.get(record) ?? begin(now, { ...given, record })));
    if (!wire) throw new Error("the wire's row was not kept");
    return template.replace("*", wire);
  };

  /** @param {import("../types-form.js").CaseRead} now @param {Parameters<typeof addWire>[1] & {record: string}} at */
  function begin(now, at) {
    const made = addWire(bed, at, now).finally(() => making.delete(at.record));
    making.set(at.record, made);
    return made;
  }
}

/**
 * Add a wire to the case, and make it the one the page is about.
 * @param {Bedside} bed
 * @param {Parameters<Bedside["keep"]>[2]} [at]
 * @param {import("../types-form.js").CaseRead} [now] the case it is added to
 * @returns {Promise<string | null>} its id; null: not kept
 */
export async function addWire(bed, at = {}, now = bed.now) {
  const { record = bed.record } = at;
  const name = say("wire.numbered", { number: now.rows("wires", true).length + 1 });
  const value = { name, when: exactMoment(bed.clock(), bed.store.zone()) };
  const id = await bed.keep({ path: "wires", op: "add", value }, { label: say("wire.label"), words: name }, at);
  if (id && record === bed.record) bed.wire = id;
  return id;
}

/**
 * Name a wire as people tell them apart: its name, and where it went in.
 * @param {Bedside} bed
 * @param {import("../types-form.js").WireRead} wire
 * @returns {string}
 */
export function wireName(bed, wire) {
  const site = bed.now.answer(`wires/${wire.id}/approach.site`);
  const isNamed = bed.now.answer(`wires/${wire.id}/approach.wire_name`).state === "answered";
  return site.state === "answered" && !isNamed ? `${wire.name}, ${site.words.toLowerCase()}` : wire.name;
}
