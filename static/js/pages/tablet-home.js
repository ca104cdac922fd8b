/** @import { Enrolment, Readiness, RecordRow, Status } from "../types.js" */
/** @import { Bedside, CaseRead } from "../types-form.js" */
import { the } from "../form/dom.js";
import { repaint } from "../form/sketch.js";
import { say } from "../form/say.js";
import { settingOf } from "../form/today.js";
import { readCase } from "../form/case.js";
import { exactMoment } from "../log/clock.js";
import { momentWords } from "../form/words.js";
import { timeRuler } from "../live/time.js";
import { shellWords } from "./shell-words.js";
import { showStore } from "./tablet-store.js";
import { isFinished } from "./tablet-finished.js";
import { drawStart } from "./tablet-start.js";
import { isAnyRunning } from "./tablet-running.js";
import { startOf } from "./tablet-time.js";
import { showWho } from "./tablet-who.js";
import { nextTheme, themeNow, useTheme } from "./tablet-theme.js";

/**
 * The first screen: cases, and the keys that begin one.
 * @param {Bedside} bed
 */
export function startScreen(bed) {
  const at = { strip: the("#start-strip"), cases: the("#cases"), begin: the("#begin") };
  const sheet = the("#start-sheet");
  /** @type {Readiness | null} */
  let readiness = null;
  /** @type {(() => Promise<boolean>) | null} */
  let update = null;
  useTheme(themeNow());

  /** @param {RecordRow[]} rows @param {Status} status @param {Omit<Enrolment, "token" | "server_key"> | null} enrolment @param {import("../types-stay.js").TakenAway[]} away */
  function draw(rows, status, enrolment, away) {
    const reads = rows.map((row) => readCase(row.fold, bed.index));
    const starts = reads.map((now) => startOf(now, bed.clock()).ms);
    drawTime(starts.length ? Math.min(...starts) : bed.clock());
    drawStart(at, bed, rows, status, {
      tablet: enrolment?.tablet.name.replace(/^tablet\s+/i, "") ?? "",
      hospital: enrolment?.hospital ?? "",
      away,
      theme: nextTheme(themeNow()),
      ready: readyWords(),
      onWho: () => showWho(sheet, bed, (standing) => {
        bed.standing = standing;
        bed.refresh();
      }),
      onStore: () => void showStore(sheet, bed),
      onTheme: () => {
        useTheme(nextTheme(themeNow()));
        document.querySelectorAll("[data-kind='drawing'] > .field-controls").forEach((box) => repaint(/** @type {HTMLElement} */ (box)));
        bed.refresh();
      },
      // A new version never comes while a case is running.
      onUpdate: update && !isHeldUp(rows, reads, status) ? () => void takeUpdate() : null,
    });
  }

  /** @param {RecordRow[]} rows @param {CaseRead[]} reads @param {Status} status */
  function isHeldUp(rows, reads, status) {
    const cases = rows.map((row, at) => ({ row, now: /** @type {CaseRead} */ (reads[at]) }));
    return isAnyRunning(cases, isFinished, status, bed.clock());
  }

  /** Asked again at the tap: another window may have begun a case since it was drawn. */
  async function takeUpdate() {
    const [rows, status] = [await bed.store.records(), await bed.store.status()];
    const isNow = !isHeldUp(rows, rows.map((row) => readCase(row.fold, bed.index)), status);
    const isHad = isNow && (await update?.());
    if (isNow && !isHad) the("#start-alert").textContent = say("start.update_not_had");
    bed.refresh();
  }

  /** @param {number} start */
  function drawTime(start) {
    const box = the("#start-time");
    const now = exactMoment(bed.clock(), bed.store.zone());
    const nowWords = say("time.now", { time: momentWords(now, settingOf(bed).today) });
    box.replaceChildren(timeRuler({ start: Math.max(start, bed.clock() - 12 * 3_600_000), now: bed.clock(), flags: [], nowWords }, box.clientWidth || 390));
  }

  function readyWords() {
    return readiness ? shellWords(readiness) : "";
  }

  return {
    draw,
    /** @param {Readiness} told */
    shell(told) {
      readiness = told;
      bed.refresh();
    },
    /** @param {() => Promise<boolean>} apply */
    update(apply) {
      update = apply;
      bed.refresh();
    },
  };
}
