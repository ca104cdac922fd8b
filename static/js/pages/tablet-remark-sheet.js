/** @import { Bedside } from "../types-form.js" */
/** @import { Found } from "../clinical/types-found.js" */
import { answerTo, evidenceText } from "../clinical/remark_answers.js";
import { asks, finding, more, sourceLine, weightWord } from "../clinical/remarks.js";
import { el, fill, key } from "../form/dom.js";
import { allWords, say } from "../form/say.js";
import { settingOf } from "../form/today.js";
import { toldBy } from "../form/told.js";
import { lead } from "../live/lead.js";
import { partOf, policyOf, remarksOf } from "./tablet-remarks.js";
import { caseAddress } from "./tablet-route.js";

/** @typedef {import("../form/unfinished.js").Drafts} Drafts */

const DRAFT = "#because/";

/** Draws the open list again; does nothing while none is open. */
let redraw = () => {};

/** The case was drawn anew: so is the list, unless a reason is being typed in it. */
export function drawOpenRemarks() {
  redraw();
}

/**
 * Show every remark on the case: what was found, what policy asks, its source, and two
 * ways to answer. An answer is an entry; none is asked for, and nothing waits for one.
 * @param {HTMLElement} sheet
 * @param {Bedside} bed
 * @param {Drafts} drafts
 */
export async function showRemarks(sheet, bed, drafts) {
  const body = el("div", { class: "sheet-body remarks", tabindex: "0" });
  const typed = await bed.store.drafts(bed.record).catch(() => ({}));
  const focus = () => body.focus({ preventScroll: true });
  const draw = () => fill(body, ...lists(bed, drafts, typed, focus));
  const close = () => {
    redraw = () => {};
    sheet.hidden = true;
    delete sheet.dataset.of;
    sheet.replaceChildren();
  };
  draw();
  const title = el("h3", { class: "sheet-name", id: "who-name" }, say("remark.title"));
  sheet.replaceChildren(
    el("header", { class: "sheet-head" }, title, el("p", { class: "sheet-of" }, say("caution.decides"))),
    body,
    el("div", { class: "sheet-keys" }, key(say("storage.close"), close, { "data-weight": "first" })),
  );
  sheet.dataset.of = "remarks";
  sheet.hidden = false;
  redraw = () => {
    const isTyping = document.activeElement instanceof HTMLInputElement && body.contains(document.activeElement);
    if (body.isConnected && !isTyping) draw();
  };
  // A handler that answers false would take each key away, also those that write.
  sheet.onkeydown = (event) => {
    if (event.key === "Escape") close();
  };
  sheet.onclick = ({ target }) => target instanceof Element && target.closest("a") && close();
  /** @type {HTMLElement | null} */ (sheet.querySelector(".sheet-keys .key"))?.focus({ preventScroll: true });
}

/** @param {Bedside} bed @param {Drafts} drafts @param {{[path: string]: string}} typed @param {() => void} focus the list */
function lists(bed, drafts, typed, focus) {
  const all = remarksOf(bed);
  const isOpen = (/** @type {Found} */ one) => one.stands && !answerTo(bed.now.fold, one);
  const groups = [
    { title: "", list: all.filter(isOpen) },
    { title: say("remark.answered"), list: all.filter((one) => one.stands && !isOpen(one)) },
    { title: say("remark.put_right"), list: all.filter((one) => !one.stands) },
  ];
  return groups.filter(({ list }) => list.length).flatMap(({ title, list }) => [
    title ? el("h4", { class: "form-section-title" }, title) : null,
    el("ul", { class: "remark-list" }, ...list.map((one) => item(bed, one, drafts, typed, focus))),
  ]);
}

/** @param {Bedside} bed @param {Found} one @param {Drafts} drafts @param {{[path: string]: string}} typed @param {() => void} focus the list */
function item(bed, one, drafts, typed, focus) {
  const { remark } = one;
  const table = allWords();
  const answer = answerTo(bed.now.fold, one);
  const rest = [asks(remark, table), more(remark, table)].filter(Boolean).join(" ");
  const label = bed.index.at(one.path.replace(/^wires\/[^/]+\//, ""))?.field.label ?? "";
  const address = caseAddress(bed.record, partOf(one), { wire: one.wire || null, path: one.path });
  return el(
    "li",
    { class: "remark", "data-weight": remark.weight, "data-code": remark.code },
    lead(remark.weight),
    el("b", {}, `${weightWord(remark, table)}: ${finding(remark, table)}`),
    rest ? el("p", { class: "remark-asks" }, rest) : null,
    el("p", {}, sourceLine(remark, policyOf(bed).rows, table)),
    answer ? el("p", { class: "remark-answer" }, el("b", {}, say(`remark.${String(answer.value.answer)}`)), because(answer.value), " · ", toldBy(bed.now.fold.entries[answer.id], settingOf(bed).today)) : null,
    el("div", { class: "remark-keys" }, ...(remark.weight === "fits" ? [] : answerKeys(bed, one, drafts, typed, focus)), label ? el("a", { class: "key", href: address }, label) : null),
  );
}

/** @param {{because?: unknown}} value */
function because(value) {
  return typeof value.because === "string" && value.because ? `, ${say("remark.because")} ${value.because}` : "";
}

/** @param {Bedside} bed @param {Found} one @param {Drafts} drafts @param {{[path: string]: string}} typed @param {() => void} focus the list */
function answerKeys(bed, one, drafts, typed, focus) {
  const path = `remarks.${one.remark.code}`;
  const evidence = evidenceText(one);
  const draftAt = `${path}${DRAFT}${evidence}`;
  const reason = el("input", { class: "input", type: "text", autocomplete: "off", placeholder: say("remark.because_optional"), "aria-label": say("remark.because_optional"), value: typed[draftAt] ?? "" });
  reason.addEventListener("input", () => {
    typed[draftAt] = reason.value;
    drafts.note(draftAt, reason.value);
  });
  let isKeeping = false;
  const keep = async (/** @type {"seen" | "seen_otherwise"} */ answer) => {
    if (isKeeping) return;
    isKeeping = true;
    const said = reason.value.trim();
    const value = { answer, evidence, ...(said ? { because: said } : {}) };
    drafts.forget(draftAt);
    const label = finding(one.remark, allWords());
    const id = await bed.keep({ path, op: "add", value, clears: draftAt }, { label, words: say(`remark.${answer}`) });
    isKeeping = false;
    if (!id) return drafts.putBack(draftAt, reason.value);
    delete typed[draftAt];
    // The key that was tapped goes; whoever has only keys stays in the list.
    focus();
    bed.refresh();
  };
  const keyOf = (/** @type {"seen" | "seen_otherwise"} */ answer) => key(say(`remark.${answer}`), () => void keep(answer), { "data-act": answer });
  return [one.remark.weight === "look_now" ? reason : null, keyOf("seen"), keyOf("seen_otherwise")];
}
