/** @import { Bedside, CaseRead } from "../types-form.js" */
import { identityOf } from "../form/identity.js";
import { say } from "../form/say.js";
import { settingOf } from "../form/today.js";
import { momentWords } from "../form/words.js";
import { exactMoment } from "../log/clock.js";
import { madeMs } from "../log/uuid.js";

/**
 * Return who a case is about as this tablet shows it. Where nobody unlocked it, the code
 * that opens the case again stands there, whatever was typed as its code since.
 * @param {Bedside} bed
 * @param {CaseRead} now
 * @param {string} record
 */
export function identityHere(bed, now, record) {
  const who = identityOf(now);
  const [code, shut] = [bed.store.codeOf(record), bed.store.shut(record)];
  // Two cases of which nothing can be read here are told apart by when they began.
  const begun = shut ? say("by_code.begun", { time: momentWords(exactMoment(madeMs(record), bed.store.zone()), settingOf(bed).today) }) : "";
  const whole = { ...who, facts: [begun, who.facts].filter(Boolean).join(" · ") };
  return code ? { ...whole, place: code, placeName: say("by_code.opens_again") } : whole;
}
