/** @import { RecordRow, Status } from "../types.js" */
/** @import { CaseRead } from "../types-form.js" */
import { the } from "../form/dom.js";
import { madeMs } from "../log/uuid.js";

const HOUR_MS = 3_600_000;

/**
 * Tell whether a case is running: something was entered within the site's hours, and
 * nobody said that it is finished. An entry ahead of the clock is no older than now.
 * @param {Pick<RecordRow, "record" | "last_ms">} row
 * @param {boolean} isFinished
 * @param {Pick<Status, "skew_ms">} status
 * @param {number} clock_ms this tablet's
 * @returns {boolean}
 */
export function isRunning({ record, last_ms }, isFinished, { skew_ms }, clock_ms) {
  const now_ms = clock_ms - (skew_ms ?? 0);
  // Of a case in which nothing counts at the server only its beginning is known.
  const latest_ms = Math.max(last_ms, madeMs(record));
  return !isFinished && now_ms - latest_ms < runningHours() * HOUR_MS;
}

/**
 * Tell whether a case has begun, which an update would come in the middle of.
 * @param {{row: RecordRow, now: CaseRead}[]} cases
 * @param {(now: CaseRead) => boolean} isFinished
 * @param {Pick<Status, "skew_ms">} status
 * @param {number} clock_ms
 */
export function isAnyRunning(cases, isFinished, status, clock_ms) {
  return cases.some(({ row, now }) => isRunning(row, isFinished(now), status, clock_ms));
}

/** @returns {number} the site's setting, as the shell holds it */
function runningHours() {
  return Number(the("#start").dataset.runningCaseH);
}
