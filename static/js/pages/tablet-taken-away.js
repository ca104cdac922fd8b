/** @import { Status } from "../types.js" */
/** @import { TakenAway } from "../types-stay.js" */
/** @import { Bedside } from "../types-form.js" */
import { el, key } from "../form/dom.js";
import { say } from "../form/say.js";
import { settingOf } from "../form/today.js";
import { momentWords } from "../form/words.js";
import { exactMoment } from "../log/clock.js";
import { caseAddress } from "./tablet-route.js";

/**
 * List the cases that cannot be read on this tablet, or not whole, each with the key that
 * asks the server for it. Of whom they are cannot be told: that went with them.
 * @param {Bedside} bed
 * @param {TakenAway[]} away
 * @param {Status} status
 * @returns {HTMLElement[]}
 */
export function awayList(bed, away, { reach }) {
  if (!away.length) return [];
  const isGiven = !["revoked", "unauthorised"].includes(reach);
  return [
    el("h2", { class: "cases-title cases-more" }, `${say("start.away")} `, el("b", {}, String(away.length))),
    el("ul", { class: "cases-away" }, ...away.map((one) => item(bed, one, isGiven))),
  ];
}

/** @param {Bedside} bed @param {TakenAway} one @param {boolean} isGiven the server gives this tablet anything */
function item(bed, { record, begun_ms, isOnServer, isByCode, isAsked }, isGiven) {
  const time = momentWords(exactMoment(begun_ms, bed.store.zone()), settingOf(bed).today);
  const name = say("start.away_begun", { time });
  const because = [say(isByCode ? "start.away_by_code" : "start.away_over"), say(isOnServer ? "start.away_there" : "start.away_waits")];
  const ask = key(say("start.away_ask"), () => void bed.during(askFor(bed, record)), { "data-act": "ask-for", "aria-label": say("start.away_ask_named", { time }) });
  return el(
    "li",
    { class: "cases-away-row", "data-record": record },
    el("p", {}, el("b", {}, name), el("span", { class: "quiet" }, because.join(" "))),
    isByCode ? el("a", { class: "key", href: caseAddress(record, "patient"), "data-act": "go-on", "aria-label": say("by_code.again", { time }) }, say("start.away_go_on")) : null,
    isAsked ? el("p", { class: "quiet" }, say("start.away_asked")) : isGiven ? ask : null,
  );
}

/** @param {Bedside} bed @param {string} record */
async function askFor(bed, record) {
  await bed.store.openRecord(record);
  bed.refresh();
}
