/** @import { Bedside } from "../types-form.js" */
import { the } from "../form/dom.js";
import { indexFields } from "../form/fields.js";
import { readCase } from "../form/case.js";
import { keeper } from "../form/keep.js";
import { say, setWords } from "../form/say.js";
import { watchPress } from "../form/press.js";
import { ignoreSecondTap } from "../form/tap.js";
import { settingOf } from "../form/today.js";
import { openDrafts } from "../form/unfinished.js";
import { momentWords } from "../form/words.js";
import { stamp } from "../log/clock.js";
import { fold } from "../log/fold.js";
import { hearWorkers, startShell } from "../sw-bridge.js";
import { loadCatalogue } from "../sync/catalogue.js";
import { startSync } from "../sync/loop.js";
import { stayAwake, watchBattery } from "./tablet-awake.js";
import { baseName, isRehearsal, markRehearsal, rehearser, wordsHere } from "./rehearsal.js";
import { readBands } from "./tablet-band.js";
import { caseScreen } from "./tablet-case.js";
import { drawer } from "./tablet-draw.js";
import { once } from "./tablet-once.js";
import { makePathFor } from "./tablet-wire.js";
import { receipts } from "./tablet-receipt.js";
import { enterStanding, recallStanding } from "./tablet-standing.js";
import { FAR, isStartNow, routeOf } from "./tablet-route.js";
import { begin } from "./tablet-begin.js";
import { startScreen } from "./tablet-home.js";
import { escapeToHead } from "./tablet-keys.js";
import { openOrLock, watchLock } from "./tablet-lock.js";
import { watchSheets } from "./tablet-sheets.js";
import { leaveCase } from "./tablet-switch.js";
import { holdPage } from "./tablet-turn.js";
import { listPeople, nobody } from "./tablet-who.js";
import { openWorks } from "./tablet-works.js";

const TICK_MS = 5000;

/**
 * Open the tablet: words and fields, the log, then the screen that the address names.
 * From then on the screen is drawn from the log each time the log changes.
 */
async function open() {
  const words = loadCatalogue().then((catalogue) => (setWords(wordsHere(catalogue.say)), catalogue));
  const opening = openOrLock({ name: baseName(), catalogue: words.then(({ version }) => version), onBlocked: () => void words.then(() => tell(say("shell.blocked"))) });
  // The case that is open is read while the page gets ready.
  const { record } = routeOf(location.hash);
  if (record) opening.then((store) => store.fold(record)).catch(() => {});
  opening.catch(() => {});
  // A store that fails is told in words, which may come after it.
  const catalogue = await words;
  const opened = await opening;
  const withBattery = watchBattery(() => bed.refresh());
  const store = { ...opened, status: async () => withBattery(await opened.status()) };
  const index = indexFields(catalogue);
  const setting = () => settingOf({ store, clock: Date.now });
  const released = watchPress(window);
  const timeWords = (/** @type {number} */ ms) => momentWords({ ...stamp(ms, store.zone()), certainty: "exact", clock: "tablet" }, setting().today);
  const showReceipt = receipts(the("#kept"), timeWords, released);
  const works = openWorks();
  /** @type {Bedside} */
  const bed = {
    store,
    index,
    policy: catalogue.policy,
    form: catalogue.policy,
    people: await store.people(),
    standing: { at: isRehearsal() ? rehearser() : nobody(), author: null, called_by: null, source: "seen" },
    record: "",
    now: readCase(fold([]), index),
    wire: null,
    keep: (entry, said, at) => keep(entry, said, at),
    during: works.during,
    pathFor: (path, at) => pathFor(path, at),
    tell: (receipt) => showReceipt(receipt),
    refresh: () => {
      bed.isStale = true;
      void draw();
    },
    drawSoon: () => void draw(),
    isStale: true,
    clock: Date.now,
  };
  const keep = keeper(bed, showReceipt, (record, path) => drafts.cleared(record, path));
  const pathFor = makePathFor(bed);
  const drafts = openDrafts(bed);
  const screens = { receipt: showReceipt, home: startScreen(bed), case: caseScreen(bed, drafts), works };
  const draw = once(drawer(bed, screens, released));

  window.addEventListener("hashchange", () => void go(bed, screens, draw));
  window.addEventListener("pagehide", drafts.hurry);
  document.addEventListener("visibilitychange", drafts.hurry);
  store.onChange((change) => {
    if (change.what === "people") void store.people().then((people) => (bed.people = people)).then(draw);
    else draw();
  });
  window.addEventListener("resize", () => void draw());
  setInterval(draw, TICK_MS);
  listPeople(bed);
  ignoreSecondTap(document.body);
  watchSheets(document.body);
  escapeToHead(document.body);
  readBands(bed, showReceipt);
  stayAwake();
  markRehearsal();
  if (!isRehearsal()) startSync(store);
  await recallStanding(bed).catch(() => {});
  await watchLock(bed, screens, drafts, released);
  if (isStartNow(location.hash)) await startNow(bed);
  await go(bed, screens, draw);
  the("#boot").remove();
  await startShell({ onReady: (ready) => screens.home.shell(ready), onUpdate: (apply) => screens.home.update(apply) });
}

/** @typedef {{receipt: ReturnType<typeof receipts>, home: ReturnType<typeof startScreen>, case: ReturnType<typeof caseScreen>, works: ReturnType<typeof openWorks>}} Screens */

/** @param {Bedside} bed @param {Screens} screens @param {() => Promise<void>} draw */
async function go(bed, screens, draw) {
  const address = location.hash;
  const route = routeOf(address);
  const before = document.activeElement;
  const isHeld = bed.record !== route.record || (route.wire ?? bed.wire) !== bed.wire;
  if (isHeld) holdPage();
  await screens.works.settled();
  await screens.case.leave();
  // Meanwhile the hand went elsewhere: the way there has begun, and is the only one.
  if (location.hash !== address) return;
  // A drawing meanwhile, of the page being left, may have let it go.
  if (isHeld) holdPage();
  const isSame = bed.record === route.record;
  leaveCase(bed, route.record);
  bed.record = route.record;
  bed.store.holdOpen(route.record);
  screens.receipt.turn(route.record);
  // An address that names no wire is about the one in view.
  bed.wire = route.wire ?? (isSame ? bed.wire : null);
  if (route.record && !isSame) await enterStanding(bed);
  await draw();
  if (location.hash !== address) return;
  if (route.record && route.part !== FAR) await screens.case.arrive(route, before);
}

/** Once: loaded again or gone back to, this address begins nothing. @param {Bedside} bed */
async function startNow(bed) {
  history.replaceState(null, "", "#/");
  await bed.during(begin(bed, "start_now"));
}

/** @param {string} text */
function tell(text) {
  the("#boot").textContent = text;
}

hearWorkers();
open().catch((error) => {
  tell(say(error.say ?? "shell.failed"));
  throw error;
});
