/** @import { Json } from "../types.js" */
/** @import { Bedside } from "../types-form.js" */
import { exactMoment } from "../log/clock.js";
import { the } from "../form/dom.js";
import { say } from "../form/say.js";
import { caseAddress } from "./tablet-route.js";
import { keepStanding } from "./tablet-standing.js";
import { leaveCase } from "./tablet-switch.js";
import { holdPage } from "./tablet-turn.js";

/** @typedef {"start_now" | "typed" | "wristband"} Start */

/**
 * Begin a case: its code, how it began, and, where that is what the key says, the
 * decision to pace. Then its page opens; nothing waits for it. Begun over an open case it is
 * told who it is now, as on any way from one case to another.
 * @param {Bedside} bed
 * @param {Start} start
 * @param {string} [name] a working name of its own
 * @param {() => Promise<unknown>} [first] what is kept before its page opens
 * @returns {Promise<boolean>} false: not kept, and said so
 */
export async function begin(bed, start, name = "", first = async () => {}) {
  const isNow = start === "start_now";
  const [before, record] = [{ record: bed.record, wire: bed.wire, standing: bed.standing }, bed.store.newRecord()];
  if (before.record) {
    // Its page is in view still, and its keys would write to the new case.
    holdPage();
    leaveCase(bed, record);
    // Whose words, and called by whom, is said anew for each case.
    bed.standing = { ...bed.standing, author: null, called_by: null, source: "seen" };
  }
  Object.assign(bed, { record, wire: null });
  // Asked first it is kept first, and nothing waits for it.
  bed.store.beginLimits(bed.record, bed.form).catch(() => {});
  const code = await bed.store.begin(bed.record).catch(() => "");
  const set = (/** @type {string} */ path, /** @type {Json} */ value, /** @type {string} */ words, isTold = true) =>
    bed.keep({ path, op: "set", value, seen: [] }, { label: bed.index.at(path)?.field.label ?? path, words }, { of: `${say("who.case")} ${code}`, isTold });
  const decided = { name: "decision", moment: exactMoment(bed.clock(), bed.store.zone()) };
  const isKept = code && (await set("patient.case_code", code, code, false).catch(() => null));
  the("#start-alert").textContent = isKept ? "" : say("start.not_kept");
  if (!isKept) {
    Object.assign(bed, before);
    // Nothing was begun: there is no case in which its code could be tried again.
    if (before.record) bed.tell({ state: "not_kept", label: say("start.new"), words: "", ms: 0, because: say("start.not_kept") });
    bed.refresh();
    return false;
  }
  await keepStanding(bed);
  if (isNow) await bed.keep({ path: "moments", op: "add", value: decided }, { label: say("start.decision"), words: say("start.decision") });
  await set("patient.start", start, say(`start.as.${start}`));
  const alias = name || say("start.alias", { code });
  if (isNow) await set("patient.alias", alias, alias);
  await first();
  location.hash = caseAddress(bed.record, "patient");
  return true;
}
