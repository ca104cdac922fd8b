/** @import { Status } from "../types.js" */
/** @import { Bedside, CaseRead, QuestionRead } from "../types-form.js" */
import { the } from "../form/dom.js";
import { bindPart } from "../form/part-view.js";
import { questionsOf } from "../form/questions.js";
import { rowSheet } from "../form/row-sheet.js";
import { drawMonitor } from "./rehearsal.js";
import { showAside } from "./tablet-aside.js";
import { drawnBehind } from "./tablet-behind.js";
import { drawDanger, leaveCard } from "./tablet-danger.js";
import { formOf } from "./tablet-form.js";
import { drawFrame, drawStatus } from "./tablet-frame.js";
import { drawHead, focusField } from "./tablet-head.js";
import { drawOwn } from "./tablet-own.js";
import { drawPanel } from "./tablet-panel.js";
import { drawRail } from "./tablet-rail.js";
import { drawRemark } from "./tablet-remark-bar.js";
import { showRemarkPlaces } from "./tablet-remark-places.js";
import { reopen } from "./tablet-reopen.js";
import { drawSpokenKeys } from "./tablet-spoken.js";
import { askReader } from "./tablet-reader.js";
import { keepStanding } from "./tablet-standing.js";
import { showView, viewOf as shownAs } from "./tablet-view.js";

/** @typedef {import("../form/part-view.js").PartView} PartView */

/** What lies over a case is about that case only. */
function leaveWhoSheet() {
  const sheet = the("#who-sheet");
  sheet.hidden = true;
  sheet.replaceChildren();
  delete sheet.dataset.of;
}

/**
 * The case: its frame, and one part's page at a time.
 * @param {Bedside} bed
 * @param {import("../form/unfinished.js").Drafts} drafts
 */
export function caseScreen(bed, drafts) {
  const sheet = rowSheet(the("#sheet"), bed, drafts, (then) => askReader(bed, then));
  /** @type {Map<string, PartView>} */
  const views = new Map();
  let current = "";
  /** @type {{now: CaseRead | null, part: string, wire: string | null, view: string, questions: QuestionRead[]}} */
  let drawn = { now: null, part: "", wire: null, view: "", questions: [] };
  const fields = drawnBehind();

  /** @param {string} part @returns {PartView} */
  function viewOf(part) {
    const known = views.get(part);
    if (known) return known;
    const made = bindPart(formOf(part), bed, drafts, sheet.show);
    views.set(part, made);
    return made;
  }

  /** @param {import("./tablet-route.js").Route} route @param {Status} status */
  function draw(route, status) {
    const part = bed.index.part(route.part) ? route.part : "patient";
    const view = shownAs(route, part);
    const isNew = bed.isStale || drawn.now !== bed.now || drawn.part !== part || drawn.wire !== bed.wire || drawn.view !== view;
    // Between two entries only ages change; the fields stay as they were drawn.
    if (isNew) drawn = { now: bed.now, part, wire: bed.wire, view, questions: questionsOf(bed.now) };
    const { questions } = drawn;
    bed.isStale = false;
    current = part;
    for (const article of document.querySelectorAll(".part")) {
      /** @type {HTMLElement} */ (article).hidden = article.id !== `part-${part}`;
    }
    drawFrame(bed, part, status, keepWho, drafts);
    if (isNew) drawRail(the("#rail"), bed, part, questions);
    showView(bed, part, view);
    drawPanel(the("#panel"), bed, { part, view, drafts, add: (path, chosen) => addRow(part, path, "", chosen) });
    drawDanger(the("#danger"), bed, { part, addRow });
    drawMonitor(bed);
    drawRemark(bed, part, drafts);
    if (!isNew) return showAside(bed, viewOf(part), status);
    fields.draw(() => viewOf(part).render(questions), view !== "live");
    showAside(bed, viewOf(part), status);
    showRemarkPlaces(bed, viewOf(part));
    drawHead(bed, part, viewOf(part), questions);
    drawOwn(bed, part, questions);
    drawSpokenKeys(bed, part, view, drafts);
    document.title = `${bed.index.part(part)?.label ?? ""} · Wiremark`;
  }

  /**
   * @param {string} part @param {string} path
   * @param {string} [of] the row it belongs to
   * @param {{[child: string]: string}} [chosen] by the key that opens it
   */
  function addRow(part, path, of, chosen) {
    fields.settle();
    const form = viewOf(part).groupForm(path);
    if (form) sheet.show(form, of, "", chosen);
  }

  async function keepWho() {
    await keepStanding(bed);
    bed.refresh();
  }

  return {
    draw,
    /** Draw what tells of the log itself; the rest was drawn just now. @param {Status} status */
    tell(status) {
      drawStatus(bed, current, status, keepWho, drafts);
      showAside(bed, viewOf(current), status);
    },
    async leave() {
      sheet.close();
      leaveCard();
      leaveWhoSheet();
      await Promise.all([...views.values()].map((view) => view.leave()));
      await drafts.flush();
    },
    /**
     * @param {import("./tablet-route.js").Route} route
     * @param {Element | null} before what held the focus when the way here began
     */
    async arrive(route, before) {
      const view = viewOf(current);
      fields.settle();
      if (!isTaken(before)) land(route, view);
      const drafted = await unfinished();
      if (bed.record !== route.record || viewOf(current) !== view) return;
      view.restore(drafted);
      reopen(bed, view, sheet, drafted);
    },
  };

  /**
   * Tell whether a quick hand is somewhere on the page already: it is not taken out. The
   * rail is where it came from.
   * @param {Element | null} before
   */
  function isTaken(before) {
    const now = document.activeElement;
    return now !== before && now !== document.body && !now?.closest(".rail");
  }

  /** @param {import("./tablet-route.js").Route} route @param {PartView} view */
  function land(route, view) {
    if (route.path) focusField(view.rootOf(route.path));
    else if (drawn.view === "live") the("#panel").focus({ preventScroll: true });
    else the(`#part-${current}`).focus({ preventScroll: true });
  }

  /** @returns {Promise<{[path: string]: string}>} */
  function unfinished() {
    return bed.store.drafts(bed.record).catch(() => ({}));
  }
}
