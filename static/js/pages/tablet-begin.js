/** @import { Json } from "../types.js" */
/** @import { Bedside } from "../types-form.js" */
import { exactMoment } from "../log/clock.js";
import { the } from "../form/dom.js";
import { say } from "../form/say.js";
import { caseAddress } from "./tablet-route.js";
import { keepStanding } from "./tablet-standing.js";

/** @typedef {"start_now" | "typed" | "wristband"} Start */

/**
 * Begin a case: its code, how it began, and, where that is what the key says, the
 * decision to pace. Then its page opens; nothing waits for it.
 * @param {Bedside} bed
 * @param {Start} start
 * @param {string} [name] a working name of its own
 * @returns {Promise<boolean>} false: not kept, and said so
 */
export async function begin(bed, start, name = "") {
  const isNow = start === "start_now";
  bed.record = bed.store.newRecord();
  // Asked first it is kept first, and nothing waits for it.
  bed.store.beginLimits(bed.record, bed.form).catch(() => {});
  const code = String(1000 + (crypto.getRandomValues(new Uint32Array(1))[0] ?? 0) % 9000);
  const set = (/** @type {string} */ path, /** @type {Json} */ value, /** @type {string} */ words) =>
    bed.keep({ path, op: "set", value, seen: [] }, { label: bed.index.at(path)?.field.label ?? path, words });
  const decided = { name: "decision", moment: exactMoment(bed.clock(), bed.store.zone()) };
  const isKept = await set("patient.case_code", code, code);
  the("#start-alert").textContent = isKept ? "" : say("start.not_kept");
  if (!isKept) {
    bed.record = "";
    return false;
  }
  await keepStanding(bed);
  if (isNow) await bed.keep({ path: "moments", op: "add", value: decided }, { label: say("start.decision"), words: say("start.decision") });
  await set("patient.start", start, say(`start.as.${start}`));
  const alias = name || say("start.alias", { code });
  if (isNow) await set("patient.alias", alias, alias);
  location.hash = caseAddress(bed.record, "patient");
  return true;
}
