/** @import { Bedside } from "../types-form.js" */
import { exactMoment } from "../log/clock.js";
import { say } from "../form/say.js";

/**
 * Return what turns a catalogue path into the record's own. The first field of a wire
 * brings the wire with it, once, however many fields ask at the same time.
 * @param {Bedside} bed
 * @returns {Bedside["pathFor"]}
 */
export function makePathFor(bed) {
  /** @type {Map<string, Promise<string | null>>} */
  const making = new Map();
  return async (template) => {
    if (!template.includes("*")) return template;
    const record = bed.record;
    const wire = bed.wire ?? (await (making.get(record) ?? begin(record)));
    if (!wire) throw new Error("the wire's row was not kept");
    return template.replace("*", wire);
  };

  /** @param {string} record */
  function begin(record) {
    const made = addWire(bed).finally(() => making.delete(record));
    making.set(record, made);
    return made;
  }
}

/**
 * Add a wire to the case, and make it the one the page is about.
 * @param {Bedside} bed
 * @returns {Promise<string | null>} its id; null: not kept
 */
export async function addWire(bed) {
  const name = say("wire.numbered", { number: bed.now.rows("wires", true).length + 1 });
  const value = { name, when: exactMoment(bed.clock(), bed.store.zone()) };
  const id = await bed.keep({ path: "wires", op: "add", value }, { label: say("wire.label"), words: name });
  if (id) bed.wire = id;
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
