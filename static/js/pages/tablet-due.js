/** @import { Bedside } from "../types-form.js" */
import { nextDue } from "../clinical/due.js";
import { el } from "../form/dom.js";
import { elapsedWords } from "../form/elapsed.js";
import { say } from "../form/say.js";
import { momentWords } from "../form/words.js";
import { exactMoment } from "../log/clock.js";
import { policyOf } from "./tablet-remarks.js";

/**
 * Draw what is due next for the page's wire: when, and how long until or since. Null where
 * nothing is: after removal or death, ever.
 * @param {Bedside} bed
 * @param {string} today
 * @returns {HTMLElement | null}
 */
export function dueLine(bed, today) {
  const policy = policyOf(bed);
  const all = bed.wire ? nextDue(bed.now.fold, bed.wire, policy).toSorted((a, b) => a.due_ms - b.due_ms) : [];
  if (!all.length) return null;
  const items = all.map(({ kind, due_ms, after }) => {
    const late = bed.clock() - due_ms;
    const age = elapsedWords(Math.floor(Math.abs(late) / 1000));
    const time = momentWords(exactMoment(due_ms, bed.store.zone()), today);
    const why = after ? ` · ${say(`due.after.${after}`)}` : "";
    const by = kind === "threshold" && policy.roles ? ` · ${say("due.by", { roles: policy.roles })}` : "";
    return el("li", { "data-late": late > 0 ? "" : null }, `${say(`clinical.due.${kind}`)} `, el("b", {}, time), ` · ${say(late > 0 ? "due.late" : "due.in", { age })}${why}${by}`);
  });
  return el("ul", { class: "panel-due", "aria-label": say("due.title") }, ...items);
}
