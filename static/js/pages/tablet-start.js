/** @import { RecordRow, Status } from "../types.js" */
/** @import { Bedside } from "../types-form.js" */
import { readCase } from "../form/case.js";
import { el, fill, key } from "../form/dom.js";
import { elapsedWords } from "../form/elapsed.js";
import { say } from "../form/say.js";
import { isRehearsal } from "./rehearsal.js";
import { rehearsalKeys } from "./rehearsal-start.js";
import { alikeLine } from "./tablet-alike.js";
import { begin } from "./tablet-begin.js";
import { bringKey } from "./tablet-bring.js";
import { isFinished } from "./tablet-finished.js";
import { lastWords, wireDrawing } from "./tablet-last.js";
import { identityHere } from "./tablet-identity.js";
import { lockKey } from "./tablet-lock.js";
import { caseAddress } from "./tablet-route.js";
import { fact, storeBlock, whoBlocks } from "./tablet-strip.js";
import { awayList } from "./tablet-taken-away.js";
import { startOf } from "./tablet-time.js";

/**
 * Draw the first screen: the cases on this tablet, and the keys that begin one.
 * @param {{strip: HTMLElement, cases: HTMLElement, begin: HTMLElement}} at
 * @param {Bedside} bed
 * @param {RecordRow[]} rows
 * @param {Status} status
 * @param {{tablet: string, hospital: string, theme: string, away: import("../types-stay.js").TakenAway[], onWho: () => void, onStore: () => void, onTheme: () => void, onUpdate: (() => void) | null, ready: string}} more
 */
export function drawStart(at, bed, rows, status, more) {
  const name = bed.standing.at;
  fill(
    at.strip,
    el("div", { class: "place" }, el("small", {}, say("start.tablet")), more.tablet || "–"),
    el(
      "div",
      { class: "who" },
      el("b", { class: "who-name" }, name.name || say("who.nobody_yet")),
      el("span", { class: "who-facts" }, [name.role, more.hospital].filter(Boolean).join(" · ")),
    ),
    el("div", { class: "strip-facts" }, el("span", { class: "quiet" }, more.ready)),
    storeBlock(status, more.onStore),
    el(
      "div",
      { class: "strip-keys" },
      key(say("start.who"), more.onWho, { "data-act": "who" }),
      lockKey(),
      key(say(`start.theme.${more.theme}`), more.onTheme, { "data-act": "theme" }),
    ),
  );
  drawCases(at.cases, bed, rows, awayList(bed, more.away, status));
  drawBegin(at.begin, bed, more);
}

/** @param {HTMLElement} at @param {Bedside} bed @param {RecordRow[]} rows @param {HTMLElement[]} away */
function drawCases(at, bed, rows, away) {
  const read = rows.map((row) => ({ ...row, now: readCase(row.fold, bed.index) }));
  const isDone = (/** @type {typeof read[number]} */ row) => isFinished(row.now);
  const running = read.filter((row) => !isDone(row));
  const finished = read.filter(isDone);
  const parts = [
    el("h1", { class: "cases-title" }, `${say("start.running")} `, el("b", {}, String(running.length))),
    alikeLine(running.map(({ now }) => now)),
    running.length
      ? el("ul", {}, ...running.map((row) => item(bed, row)))
      : el("p", { class: "cases-none" }, say("start.none"), el("small", {}, say("start.none_more"))),
  ];
  if (finished.length) {
    parts.push(el("h2", { class: "cases-title cases-more" }, `${say("start.finished")} `, el("b", {}, String(finished.length))));
    parts.push(el("ul", {}, ...finished.map((row) => item(bed, row))));
  }
  fill(at, ...parts, ...away);
}

/** @param {Bedside} bed @param {RecordRow & {now: import("../types-form.js").CaseRead}} row */
function item(bed, row) {
  const { record, now } = row;
  const who = identityHere(bed, now, record);
  const start = startOf(now, bed.clock());
  const since = elapsedWords(Math.floor((bed.clock() - start.ms) / 1000));
  const wire = now.wires.at(-1)?.id ?? null;
  const blocks = whoBlocks(who);
  const name = who.isNamed ? who.name : `${who.name}, ${who.place}`;
  blocks[1]?.append(el("span", { class: "who-facts" }, lastWords(bed, now, wire, row)));
  return el(
    "li",
    { class: "cases-row", "data-record": record },
    ...blocks,
    el("div", { class: "cases-wire" }, wireDrawing(now, wire) ?? say("start.no_wire")),
    fact(since, say(start.isDecision ? "strip.since_decision" : "strip.since_opened")),
    el("a", { class: "key", href: caseAddress(record, "patient", { wire }), "aria-label": say("start.open_named", { name }) }, say("start.open")),
  );
}

/** @param {HTMLElement} at @param {Bedside} bed @param {{onUpdate: (() => void) | null}} more */
function drawBegin(at, bed, { onUpdate }) {
  const big = (/** @type {string} */ name, /** @type {() => void} */ onTap, /** @type {string} */ css = "") => {
    const made = key("", onTap, { class: `key ${css}`, "data-act": name });
    made.append(el("b", {}, say(`start.${name}`)), el("small", {}, say(`start.${name}_more`)));
    return made;
  };
  fill(
    at,
    ...(isRehearsal() ? [] : [big("now", () => void bed.during(begin(bed, "start_now")), "begin-now"), big("new", () => void bed.during(begin(bed, "typed")))]),
    ...rehearsalKeys(bed),
    onUpdate ? big("update", onUpdate) : null,
    bringKey(bed),
    isRehearsal() || bed.store.isByCode ? null : passphraseWay(bed.store.isClosed),
    el("p", { class: "begin-said" }, `${say("caution.watches")} ${say("caution.decides")}`),
  );
}

/** Offered, never in the way: a tablet without a passphrase says what that means. @param {boolean} isClosed */
function passphraseWay(isClosed) {
  const [words, more] = isClosed ? [say("lock.settings"), null] : [say("lock.set_first"), el("small", {}, say("lock.set_first_more"))];
  return el("a", { class: "key", href: "/tablet/passphrase", "data-act": "passphrase" }, el("b", {}, words), more);
}
