/** @import { Fold, JsonObject, Status } from "../types.js" */
/** @import { Bedside } from "../types-form.js" */
import { readCase } from "../form/case.js";
import { keepFocus } from "../form/focus.js";
import { drawFar } from "./tablet-far.js";
import { limitsFinder } from "./tablet-limits.js";
import { FAR, isCaseAddress, routeOf } from "./tablet-route.js";
import { tellSwitch } from "./tablet-switch.js";
import { leaveUnknown, turnTo } from "./tablet-turn.js";

/**
 * Return what draws the screen that the address names.
 * @param {Bedside} bed
 * @param {import("./tablet.js").Screens} screens
 * @param {() => Promise<void>} released a key that is being pressed is not drawn anew
 */
export function drawer(bed, screens, released) {
  /** @type {Status | null} as told last */
  let told = null;
  const limitsOf = limitsFinder(bed.store, bed.form);

  async function drawStart() {
    if (isCaseAddress(location.hash)) leaveUnknown();
    const [rows, status, enrolment, away] = await Promise.all([bed.store.records(), bed.store.status(), bed.store.enrolment(), bed.store.takenAway()]);
    await released();
    // A case is still being left, or begun: a tap on Start now would be undone by it, and a
    // case begun now taken for it.
    if (bed.record || routeOf(location.hash).record) return;
    turnTo("#start");
    keepFocus(() => screens.home.draw(rows, (told = status), enrolment, away));
  }

  /** @param {import("./tablet-route.js").Route} route @param {Promise<Status>} asked */
  async function drawCase(route, asked) {
    const folded = await bed.store.fold(route.record);
    if (!folded.order.length && !(await bed.store.holds(route.record))) return leaveUnknown();
    // What was tapped is shown at once; where it lies may be told a moment later.
    const limits = await limitsOf(route.record);
    const isNew = folded !== bed.now.fold || limits !== bed.policy || bed.isStale;
    await released();
    const isShown = Boolean(told && isNew && bed.record === route.record);
    if (told && isShown) show(route, folded, limits, told);
    const status = await asked;
    const isTold = isShown && JSON.stringify(told) === JSON.stringify(status);
    told = status;
    if (isTold) return;
    await released();
    if (bed.record !== route.record) return;
    if (isShown) keepFocus(() => screens.case.tell(status));
    else show(route, folded, limits, status);
  }

  /** Nothing is shown of a case that is not here, nor of the one before. @param {import("./tablet-route.js").Route} route */
  async function drawAfar({ record }) {
    const folded = record ? await bed.store.fold(record) : null;
    const limits = record ? await limitsOf(record) : bed.policy;
    await released();
    if (bed.record !== record || routeOf(location.hash).part !== FAR) return;
    if (folded) read(folded, limits);
    turnTo("#far");
    keepFocus(() => drawFar(bed, Boolean(folded?.order.length)));
  }

  /** @param {Fold} folded @param {JsonObject} limits */
  function read(folded, limits) {
    bed.isStale ||= limits !== bed.policy;
    bed.policy = limits;
    if (folded !== bed.now.fold) bed.now = readCase(folded, bed.index);
    if (!bed.now.wires.some((wire) => wire.id === bed.wire)) bed.wire = bed.now.wires.at(-1)?.id ?? null;
  }

  /** @param {import("./tablet-route.js").Route} route @param {Fold} folded @param {JsonObject} limits @param {Status} status */
  function show(route, folded, limits, status) {
    read(folded, limits);
    // Before it can be tapped: a tap meant for the other case would be told of this one.
    tellSwitch(bed);
    turnTo("#case");
    keepFocus(() => screens.case.draw(route, status));
  }

  return async () => {
    const route = routeOf(location.hash);
    if (route.part === FAR) return drawAfar(route);
    if (!route.record) return drawStart();
    const asked = bed.store.status();
    asked.catch(() => {});
    await drawCase(route, asked);
  };
}
