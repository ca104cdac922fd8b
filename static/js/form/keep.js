/** @import { How, NewEntry, Who } from "../types.js" */
/** @import { Bedside, Receipt, Standing } from "../types-form.js" */
import { identityOf } from "./identity.js";
import { say } from "./say.js";

/** @typedef {Pick<Bedside, "store" | "standing" | "record" | "now">} Keeping */

/**
 * Return the one way by which a form keeps an entry: durable first, then the receipt.
 * A failed write says "NOT kept" in the same place and can be tried again. Both its keys are
 * about the case in which it was said, whichever is open when they are tapped.
 * @param {Keeping} bed
 * @param {(receipt: Receipt) => void} show
 * @param {(record: string, path: string) => void} cleared an entry took the place of this draft
 * @returns {Bedside["keep"]}
 */
export function keeper(bed, show, cleared) {
  /** @type {Bedside["keep"]} */
  async function keep(entry, said, { isTold = true, ...given } = {}) {
    const at = { ...sayingOf(bed), ...given };
    const { record, who, of } = at;
    const same = `${record} ${entry.path} ${entry.op === "set" ? "" : JSON.stringify(entry.value)}`;
    try {
      const made = await bed.store.append(record, { ...entry, ...who });
      if (entry.clears) cleared(record, entry.clears === true ? entry.path : entry.clears);
      at.kept?.(made.id);
      const ms = Date.parse(made.at);
      const told = entry.op === "add" ? strikeable(entry, made.id, said, ms, record) : { state: /** @type {const} */ ("kept"), ...said, ms };
      show({ ...told, record, of, same });
      return made.id;
    } catch (error) {
      if (!isTold) throw error;
      show({ ...notKept(said, error, () => void keep(entry, said, at)), record, of, same });
      return null;
    }
  }

  /**
   * @param {Omit<NewEntry, "author">} entry
   * @param {string} id
   * @param {{label: string, words: string}} said
   * @param {number} ms
   * @param {string} record
   * @returns {Receipt}
   */
  function strikeable(entry, id, said, ms, record) {
    // Who strikes it is whoever taps, then.
    const strike = () => void keep({ path: entry.path, op: "strike", value: { strikes: id, reason: null } }, struck(said), { record });
    return { state: "kept", ...said, ms, act: say("strike.named", { words: short(said) }), onAct: strike };
  }

  return keep;
}

/**
 * Return where something is said just now, and by whom: what stays with it when it is tried again.
 * @param {Keeping} bed
 * @returns {import("../types-form.js").Saying}
 */
export function sayingOf({ record, standing, now }) {
  const { isNamed, name, placeName, place } = identityOf(now);
  return { record, who: whoOf(standing), of: isNamed ? name : `${placeName} ${place}` };
}

/**
 * Return the receipt of what was not kept.
 * @param {{label: string, words: string}} said
 * @param {unknown} error
 * @param {() => void} onAct tries it again
 * @returns {Receipt}
 */
export function notKept(said, error, onAct) {
  const because = say(/** @type {{say?: string}} */ (error).say ?? "store.failed");
  return { state: "not_kept", ...said, ms: 0, because, act: say("receipt.again"), onAct };
}

/** Who unlocked this tablet, and by what. @type {{person: Who, how: How} | null} */
let proven = null;

/**
 * Take note of who unlocked the tablet: what is entered as theirs says how that is known.
 * @param {Who} person
 * @param {How} how
 */
export function proveWho(person, how) {
  proven = { person, how };
}

/**
 * Return whose observation an entry is, who taps, who called it out, and how it is known.
 * @param {Standing} standing
 * @returns {Pick<NewEntry, "author" | "entered_by" | "called_by" | "source" | "how">}
 */
export function whoOf({ at, author, called_by, source }) {
  return { author: author ?? at, entered_by: at, called_by, source, how: howOf(at) };
}

/** @param {Who} at @returns {How} */
function howOf(at) {
  if (!at.name) return "none";
  const isProven = proven?.person.name === at.name && proven.person.person === at.person;
  return proven && isProven ? proven.how : "typed";
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
