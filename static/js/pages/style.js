/** @import { Catalogue } from "../types.js" */
/** @import { Bedside } from "../types-form.js" */
import { remark } from "../clinical/remarks.js";
import { el, the } from "../form/dom.js";
import { bindPart } from "../form/part-view.js";
import { questionsOf } from "../form/questions.js";
import { rowSheet } from "../form/row-sheet.js";
import { setWords } from "../form/say.js";
import { settingOf } from "../form/today.js";
import { num } from "../live/num.js";
import { timeRuler } from "../live/time.js";
import { loadCatalogue } from "../sync/catalogue.js";
import { bedOf, statusIn } from "./style-bed.js";
import { saidFields, saidWire } from "./style-case.js";
import { drawCapturePanel } from "./tablet-capture.js";
import { remarkLine } from "./tablet-remark-bar.js";
import { questionList } from "./tablet-finish.js";
import { drawDepthPanel } from "./tablet-panels.js";
import { drawRail } from "./tablet-rail.js";
import { receipts } from "./tablet-receipt.js";
import { drawStand } from "./tablet-stand.js";
import { drawStart } from "./tablet-start.js";
import { showStore } from "./tablet-store.js";
import { drawStrip, fact } from "./tablet-strip.js";
import { showWho } from "./tablet-who.js";
import { drawRulers } from "./style-rulers.js";

const SIZES_PX = [16, 18, 31, 50, 72, 96, 142, 200];
const VALUES = ["1.0", "10", "0.8", "8", "3.0", "30", "34"];
const BEFORE_MIN = { start: 1, hour: 52, day: 1400 };
const nothing = () => {};
/** @type {import("../form/unfinished.js").Drafts} */
const DRAFTS = { note: nothing, putBack: nothing, forget: nothing, cleared: nothing, drop: nothing, hurry: nothing, flush: async () => {}, isFailing: () => false };

/**
 * Fill each place of the page by the module that draws it on the tablet.
 * @param {Catalogue} catalogue
 */
async function fillPage(catalogue) {
  const bed = bedOf(catalogue, saidFields);
  fillNumbers();
  fillFields(bed);
  const nameless = bedOf(catalogue, () => []);
  for (const at of all("[data-strip]")) fillStrip(at, at.dataset.strip === "all_sent" ? bed : nameless);
  for (const at of all("[data-kept]")) fillReceipt(at);
  fillRemarks(bed);
  fillPanels(catalogue);
  for (const at of all("[data-time]")) fillTime(at);
  drawRulers(the(".style-rulers"));
  drawRail(the("#style-rail"), bed, "advance", questionsOf(bed.now));
  the(".style-open").append(questionList(bed, questionsOf(bed.now).slice(0, 12)));
  fillStart(bed);
  showWho(the("#style-who"), bed, nothing);
  the("#style-who .sheet-name").id = "style-who-name";
  await showStore(the("#style-store"), bed);
  for (const one of all("[data-use-theme]")) one.addEventListener("click", () => useTheme(String(one.dataset.useTheme)));
  /** @type {HTMLElement | null} */ (document.activeElement)?.blur();
  document.documentElement.dataset.ready = "";
}

/** @param {string} css @returns {HTMLElement[]} */
function all(css) {
  return [...document.querySelectorAll(css)].filter((one) => one instanceof HTMLElement);
}

/** @param {string} theme */
function useTheme(theme) {
  document.documentElement.dataset.theme = theme;
  for (const one of all("[data-use-theme]")) one.setAttribute("aria-pressed", String(one.dataset.useTheme === theme));
}

function fillNumbers() {
  const box = the(".style-numbers");
  for (const px of SIZES_PX) {
    const made = num("1.2", "mA", { text: px < 30 });
    made.style.setProperty("--num-size", `${px}px`);
    box.append(made);
  }
  box.append(...VALUES.map((value) => num(value, "mA")), num("2.5", "×"), num("34", "cm"));
}

/** @param {Bedside} bed */
function fillFields(bed) {
  const sheet = rowSheet(the("#style-row"), bed, DRAFTS);
  const questions = questionsOf(bed.now);
  const views = all(".style-part").map((form) => bindPart(/** @type {HTMLFormElement} */ (form), bed, DRAFTS, sheet.show));
  for (const view of views) view.render(questions);
  for (const view of views) view.restore({ "patient.alias": JSON.stringify({ "patient.alias": "Harbour man" }) });
  for (const hidden of all(".style-part :is(section, .field, .group)[hidden]")) hidden.hidden = false;
  const row = views.map((view) => view.groupForm("indication.drugs_given")).find((form) => form);
  if (row) sheet.show(row);
}

/** @param {HTMLElement} at @param {Bedside} bed */
function fillStrip(at, bed) {
  const status = statusIn(String(at.dataset.strip));
  const [strip, stand] = [el("header", { class: "strip" }), el("div", { class: "stand" })];
  at.append(strip, stand);
  drawStrip(strip, bed, status, { startMs: bed.clock() - 15 * 60_000, isDecision: true, number: null, onWho: nothing, onStore: nothing, onMoments: nothing });
  drawStand(stand, bed, status);
}

/** @param {HTMLElement} at */
function fillReceipt(at) {
  const state = at.dataset.kept === "not_kept" ? "not_kept" : "kept";
  const show = receipts(at, () => "10:41");
  const act = { strike: "Strike 34 cm, RV contact", not_kept: "Try again" }[String(at.dataset.kept)];
  show({ state, label: "Depth reading", words: "34 cm, RV contact (ST up)", ms: 0, because: "This tablet's disk is full.", act, onAct: nothing });
}

/** @param {Bedside} bed */
function fillRemarks(bed) {
  const clean = remark("clean_test", "fits", { low: "1.0", high: "1.2", unit: "mA" }, ["threshold_margin_floor"]);
  const samples = [clean, remark("retest_depth", "look_again"), remark("pads_pacing", "look_now")];
  the(".style-remarks").append(...samples.map((one) => remarkLine(bed, { remark: one })));
}

/** @param {Catalogue} catalogue */
function fillPanels(catalogue) {
  for (const at of all("[data-depth]")) {
    const which = String(at.dataset.depth);
    const bed = bedOf(catalogue, (min) => (which === "none" ? [] : saidWire(min, /** @type {any} any: named in the page */ (which))));
    drawDepthPanel(at, bed, settingOf(bed).today, nothing);
  }
  for (const at of all("[data-capture]")) {
    const which = String(at.dataset.capture);
    const bed = bedOf(catalogue, (min) => (which === "none" ? [] : saidWire(min, /** @type {any} any: named in the page */ (which))));
    drawCapturePanel(at, bed);
  }
}

/** @param {HTMLElement} at */
function fillTime(at) {
  const [now, minutes] = [Date.now(), BEFORE_MIN[/** @type {keyof typeof BEFORE_MIN} */ (at.dataset.time)]];
  const flags = [1, 0.7, 0.65, 0.3].map((part) => ({ ms: now - minutes * part * 60_000, label: "wire in 10:37" }));
  at.append(timeRuler({ start: now - minutes * 60_000, now, flags, nowWords: "now 10:41" }, at.clientWidth));
}

/** A case whose time was over, and one begun without unlocking. */
const AWAY = [
  { record: "0190a5d0-7a00-7000-8000-000000000001", begun_ms: Date.UTC(2031, 10, 23, 9, 40), isOnServer: true, isByCode: false, isAsked: true },
  { record: "0190a5d0-7a00-7000-8000-000000000002", begun_ms: Date.UTC(2031, 10, 24, 9, 12), isOnServer: false, isByCode: true, isAsked: false },
];

/** @param {Bedside} bed */
function fillStart(bed) {
  const at = { strip: the(".start > .strip"), cases: the(".start > .cases"), begin: the(".start > .begin") };
  const row = { record: "style", fold: bed.now.fold, first_ms: 1, last_ms: bed.clock() - 60_000, entries: 31, unsent: 31, notTaken: 1 };
  drawStart(at, bed, [row], statusIn("no_network"), { tablet: "5", hospital: "Example Harbour Hospital", theme: "day", away: AWAY, ready: "", onWho: nothing, onStore: nothing, onTheme: nothing, onUpdate: nothing });
}

setWords({});
const catalogue = await loadCatalogue();
setWords(catalogue.say);
await fillPage(catalogue);
