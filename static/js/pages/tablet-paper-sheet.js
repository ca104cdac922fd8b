/** @import { Bedside } from "../types-form.js" */
import { readCase } from "../form/case.js";
import { el } from "../form/dom.js";
import { identityOf } from "../form/identity.js";
import { say } from "../form/say.js";
import { momentWords } from "../form/words.js";
import { exactMoment } from "../log/clock.js";
import { noteWords } from "./tablet-note.js";
import { paperParts } from "./tablet-paper-parts.js";
import { uncountedBlocks, unfinishedBlock } from "./tablet-paper-rest.js";
import { standingBlock } from "./tablet-paper-standing.js";

/** What a reader of the copy must know of the tablet that made it. */
const TOLD = ["strip.clock_off", "strip.damaged", "strip.lost", "strip.lost_one", "strip.not_enrolled", "strip.older_form", "strip.revoked", "strip.shut", "strip.shut_one", "strip.unauthorised", "strip.went_back"];
/** A name without an end would push the case off its own pages; page 1 has it whole. */
const LONGEST = 90;
/** Lines to write on: after the print somebody goes on by hand. */
const RULED = 8;

/**
 * Set out the case as one document: who on each page, then where it comes from and what
 * the server has of it, what stands now, every part, what does not count.
 * @param {Bedside} bedside
 * @returns {Promise<HTMLTableElement>} its head is repeated on every page that is printed
 */
export async function paperSheet(bedside) {
  const { store, record } = bedside;
  const bed = { ...bedside, now: readCase(await store.fold(record), bedside.index) };
  const [status, where, enrolment, drafts] = await Promise.all([store.status(), store.whereIs(record), store.enrolment(), store.drafts(record)]);
  const time = momentWords(exactMoment(bed.clock(), store.zone()));
  const from = { tablet: enrolment?.tablet.name ?? say("paper.this_tablet"), time };
  const isSigned = bed.now.rows("attestations").length > 0;
  const who = identityOf(bed.now);
  const { blocks, left } = paperParts(bed);
  const body = el(
    "td",
    {},
    el("h1", { class: "paper-title" }, say("paper.title")),
    isShort(who.name) && isShort(who.facts) ? null : el("p", { class: "paper-who" }, el("b", {}, who.name), ` · ${who.facts}`),
    el("p", { class: "paper-state" }, el("b", {}, say(isSigned ? "paper.not_the_note" : "paper.not_signed", from))),
    ...serverLines(where).map((line) => el("p", { class: "paper-state" }, el("b", {}, line))),
    ...status.notes.filter((note) => TOLD.includes(note.key)).map((note) => el("p", { class: "paper-state" }, noteWords(note))),
    standingBlock(bed, time),
    ...blocks,
    left,
    unfinishedBlock(bed, drafts),
    ...uncountedBlocks(bed, status),
    el("p", { class: "paper-by" }, say("paper.what_is_left_out")),
    byHand(),
  );
  const head = el("th", {}, ...running(bed, who, from));
  return el("table", { class: "paper-table", role: "presentation" }, el("thead", {}, el("tr", {}, head)), el("tbody", {}, el("tr", {}, body)));
}

/**
 * The two identifiers and more, on every page.
 * @param {Bedside} bed
 * @param {import("../form/identity.js").Identity} who
 * @param {{tablet: string, time: string}} from
 */
function running(bed, who, { tablet, time }) {
  return [
    el("p", {}, el("b", {}, short(who.name)), ` · ${short(who.facts)}`),
    el("p", { class: "paper-by" }, [`${who.placeName} ${who.place}`, say("paper.record", { record: bed.record }), tablet, time].join(" · ")),
  ];
}

/** @param {import("../log/whereabouts.js").Whereabouts} where */
function serverLines({ total, unsent, notTaken }) {
  const lines = [];
  if (unsent) lines.push(say("paper.unsent", { unsent, total }));
  if (notTaken) lines.push(say("paper.not_taken", { count: notTaken }));
  return lines.length ? lines : [say("paper.on_server", { total })];
}

function byHand() {
  const lines = Array.from({ length: RULED }, () => el("div", { class: "paper-rule" }));
  return el("section", { class: "paper-hand" }, el("h2", {}, say("paper.by_hand")), el("p", { class: "paper-by" }, say("paper.by_hand_who")), ...lines);
}

/** @param {string} text */
function isShort(text) {
  return [...text].length <= LONGEST;
}

/** @param {string} text */
function short(text) {
  return isShort(text) ? text : `${[...text].slice(0, LONGEST).join("")} …`;
}
