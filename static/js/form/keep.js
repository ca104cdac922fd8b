/** @import { NewEntry } from "../types.js" */
/** @import { Bedside, Receipt, Standing } from "../types-form.js" */
import { say } from "./say.js";

/** @typedef {Pick<Bedside, "store" | "standing" | "record">} Keeping */

/**
 * Return the one way by which a form keeps an entry: durable first, then the receipt.
 * A failed write says "NOT kept" in the same place and can be tried again.
 * @param {Keeping} bed
 * @param {(receipt: Receipt) => void} show
 * @returns {Bedside["keep"]}
 */
export function keeper(bed, show) {
  /** @type {Bedside["keep"]} */
  async function keep(entry, said) {
    const record = bed.record;
    try {
      const { id, at } = await bed.store.append(record, { ...entry, ...whoOf(bed.standing) });
      const ms = Date.parse(at);
      show(entry.op === "add" ? strikeable(entry, id, said, ms) : { state: "kept", ...said, ms });
      return id;
    } catch (error) {
      const because = say(/** @type {{say?: string}} */ (error).say ?? "store.failed");
      show({ state: "not_kept", ...said, ms: 0, because, act: say("receipt.again"), onAct: () => void keep(entry, said) });
      return null;
    }
  }

  /**
   * @param {Omit<NewEntry, "author">} entry
   * @param {string} id
   * @param {{label: string, words: string}} said
   * @param {number} ms
   * @returns {Receipt}
   */
  function strikeable(entry, id, said, ms) {
    const strike = () => void keep({ path: entry.path, op: "strike", value: { strikes: id, reason: null } }, struck(said));
    return { state: "kept", ...said, ms, act: say("strike.named", { words: short(said) }), onAct: strike };
  }

  return keep;
}

/**
 * Return whose observation an entry is, who taps, who called it out, and how it is known.
 * @param {Standing} standing
 * @returns {Pick<NewEntry, "author" | "entered_by" | "called_by" | "source" | "how">}
 */
export function whoOf({ at, author, called_by, source }) {
  return { author: author ?? at, entered_by: at, called_by, source, how: at.name ? "typed" : "none" };
}

/**
 * Return what a receipt says of a strike.
 * @param {{label: string, words: string}} said
 */
export function struck({ label, words }) {
  return { label, words: say("strike.done", { words }) };
}

/** @param {{label: string, words: string}} said */
function short({ label, words }) {
  return words.length > 28 ? label : words;
}
