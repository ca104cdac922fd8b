/** @import { Store } from "../types.js" */
/** @import { Bedside } from "../types-form.js" */
import { readCase } from "../form/case.js";
import { key, the } from "../form/dom.js";
import { proveWho } from "../form/keep.js";
import { say } from "../form/say.js";
import { StoreProblem } from "../log/problem.js";
import { openStore } from "../log/store.js";
import { byCode, leaveCodes, lookAtCodes, restoreCodes } from "../sw-codes.js";
import { heldKey, keepVault, lockVault, lookInVault } from "../sw-vault.js";
import { goToLock } from "./lock-way.js";
import { lockTold } from "./lock-told.js";
import { isRehearsal, siteZone } from "./rehearsal.js";
import { isFinished } from "./tablet-finished.js";
import { watchIdle } from "./tablet-idle.js";
import { shownWhileLocked } from "./tablet-lock-shown.js";
import { isAnyRunning } from "./tablet-running.js";
import { holdPage } from "./tablet-turn.js";

/** A dark screen lets the browser end the worker: what is open here outlives that. */
const RESTORE_EVERY_MS = 15_000;

/**
 * Open the log, or leave for the lock: then nothing more comes of this page.
 * @param {Parameters<typeof openStore>[0]} options
 * @returns {Promise<Store>}
 */
export async function openOrLock(options) {
  try {
    return await openStore({ ...options, dataKey: heldKey, ...(isRehearsal() ? { siteZone } : { byCode }) });
  } catch (error) {
    if (!(error instanceof StoreProblem) || error.code !== "locked") throw error;
    goToLock();
    return new Promise(() => {});
  }
}

/** What locks this page; null: the tablet has no passphrase. @type {(() => void) | null} */
let lockHere = null;

/**
 * Return the key that locks; it stands on every screen of a tablet that has a passphrase.
 * @returns {HTMLButtonElement | null}
 */
export function lockKey() {
  return lockHere && key(say("lock.key"), () => lockHere?.(), { "data-act": "lock", "aria-label": say("lock.lock_now") });
}

/**
 * Lock when asked to, when nobody touched the tablet for the site's minutes, and with any
 * other window; nothing before all of it is kept. Whoever unlocked it is who is here.
 * @param {Bedside} bed
 * @param {import("./tablet.js").Screens} screens
 * @param {import("../form/unfinished.js").Drafts} drafts
 * @param {() => Promise<void>} released no tap is on its way
 */
export async function watchLock(bed, screens, drafts, released) {
  if (!bed.store.isClosed) return;
  let isLocking = false;
  const tell = lockTold((told) => {
    if (told === "used") idle.used();
    // Whoever unlocked it has this case, too; this page sees it as theirs once it is loaded anew.
    if (told === "open" && bed.store.isByCode) void settle(screens, drafts, released).then((isKept) => isKept && location.reload());
    if (told === "rekeyed") void lock(false);
    if (told === "lock") void lock(false);
  });

  /** @param {boolean} isFromHere else another window locked already */
  async function lock(isFromHere) {
    if (isLocking) return;
    isLocking = true;
    const isKept = await settle(screens, drafts, released);
    // The page that locks tells the worker; one that hears of it comes after.
    const isShut = isKept && (!isFromHere || (await shut(bed)));
    if (!isShut) {
      isLocking = false;
      return stay(bed);
    }
    if (isFromHere) tell("lock");
    goToLock();
  }

  const idle = watchIdle({
    told: bed.store.settings,
    isRunning: () => isRunningHere(bed),
    released,
    onIdle: () => lock(true),
    onUsed: () => tell("used"),
  });
  lockHere = () => void lock(true);
  addEventListener("pageshow", (event) => event.persisted && void lock(false));
  keepVault();
  if (bed.store.isByCode) setInterval(() => void (isLocking || restoreCodes(bed.store.openByCode())), RESTORE_EVERY_MS);
  const { person, how } = await lookInVault();
  if (!person || !how) return;
  proveWho(person, how);
  bed.standing = { ...bed.standing, at: person };
}

/**
 * Write all that was typed or tapped.
 * @param {import("./tablet.js").Screens} screens
 * @param {import("../form/unfinished.js").Drafts} drafts
 * @param {() => Promise<void>} released
 * @returns {Promise<boolean>} false: something is not kept, and would be lost
 */
async function settle(screens, drafts, released) {
  await released();
  holdPage();
  try {
    await screens.works.settled();
    // A sheet is closed by leaving: what stands on it first, and it stays where that fails.
    await drafts.flush();
    if (drafts.isFailing()) return false;
    await screens.case.leave();
    await screens.works.settled();
  } catch {
    return false;
  }
  return !drafts.isFailing() && !screens.receipt.isLost();
}

/** A worker that does not answer may still hold the key open. @param {Bedside} bed @returns {Promise<boolean>} */
async function shut(bed) {
  if (bed.store.isByCode) await restoreCodes(bed.store.openByCode());
  const [shown, over] = await Promise.all([shownWhileLocked(bed).catch(() => null), finishedByCode(bed)]);
  await bed.store.endByCode(over);
  return (await leaveCodes(over)) && (await lockVault(shown)).state !== "failed";
}

/** No code opens what is finished. @param {Bedside} bed */
async function finishedByCode({ store, index }) {
  const { records } = await lookAtCodes();
  const here = (await store.records()).filter(({ record }) => records.includes(record));
  return here.filter(({ fold }) => isFinished(readCase(fold, index))).map(({ record }) => record);
}

/** @param {Bedside} bed */
function stay(bed) {
  bed.refresh();
  const said = the("#lock-said");
  said.textContent = say("lock.not_locked");
  said.hidden = false;
  addEventListener("pointerdown", () => (said.hidden = true), { once: true });
}

/** @param {Bedside} bed */
async function isRunningHere({ store, index, clock }) {
  const [rows, status] = await Promise.all([store.records(), store.status()]);
  return isAnyRunning(rows.map((row) => ({ row, now: readCase(row.fold, index) })), isFinished, status, clock());
}
