/** @import { Bedside } from "../types-form.js" */
import { heldPerWire } from "./live-held.js";

/** ms after a touch in which nothing changes place, and a second tap is a tremble */
export const STILL_MS = 400;
/** ms after which a depth without a result may be kept alone */
export const ALONE_MS = 20_000;

/** @typedef {"results" | "guide" | "p_waves" | "digits"} Asked what stands in the grid of keys */

/**
 * @typedef {object} Call What the hand is telling, and the log does not hold yet.
 * @property {string | null} depth cm, called out but not kept
 * @property {number} calledMs Unix milliseconds when it was
 * @property {boolean} isTyped called by its digits: the lens may have no key of it
 * @property {string} digits of a depth that is typed
 * @property {Asked} asked
 * @property {string} guide the guide whose results stand on the keys; "" as the record says
 * @property {string} said a key of the words that answer the last tap, "" none
 * @property {number | null} from the lens's first depth
 * @property {string} follows the entry the lens was centred on
 * @property {number} touchedAt ms of this page's own clock
 * @property {number} changedAt when other keys came into the grid
 * @property {string | null} keeping the result that is being kept with its depth; "": the depth alone
 */

/**
 * Return what is being told of the page's wire.
 * @type {(bed: Pick<Bedside, "record" | "wire">) => Call}
 */
export const callOf = heldPerWire(() => ({
  depth: null, calledMs: 0, isTyped: false, digits: "", asked: "results", guide: "", said: "",
  from: null, follows: "", touchedAt: -STILL_MS, changedAt: -STILL_MS, keeping: null,
}));

/**
 * Call a depth; the same again takes it back, and says so. One that is being kept is not:
 * it is an entry soon, and struck by name.
 * @param {Call} call
 * @param {string} depth
 * @param {number} ms Unix milliseconds
 * @param {boolean} [isTyped]
 */
export function callDepth(call, depth, ms, isTyped = false) {
  const isBack = call.depth === depth;
  if (isBack && call.keeping !== null) return;
  if (call.asked === "digits") ask(call, "results");
  call.depth = isBack ? null : depth;
  call.calledMs = ms;
  call.isTyped = isTyped;
  call.said = isBack ? "advance.ask.taken_back" : "";
}

/**
 * Put other keys into the grid.
 * @param {Call} call
 * @param {Asked} asked
 */
export function ask(call, asked) {
  call.asked = asked;
  call.digits = "";
  call.said = "";
  call.changedAt = performance.now();
}

/**
 * Tell whether keys came into the grid so lately that a tap was meant for those before. Not
 * digits: they come by a key that lies elsewhere, and are aimed at however soon.
 * @param {Pick<Call, "asked" | "changedAt">} call
 * @param {number} nowMs ms of this page's own clock
 */
export function isHeld({ asked, changedAt }, nowMs) {
  return asked !== "digits" && nowMs - changedAt < STILL_MS;
}

/**
 * Tell whether a depth waits so long for its result that it may be kept alone.
 * @param {Pick<Call, "depth" | "calledMs">} call
 * @param {number} nowMs
 */
export function isOffered({ depth, calledMs }, nowMs) {
  return depth !== null && nowMs - calledMs >= ALONE_MS;
}

/**
 * Take a called depth as told once the log holds it, however it came there: what was not kept
 * at first may have been tried again.
 * @param {Call} call
 * @param {{cm: string | null, ms: number} | undefined} last the reading that stands last
 */
export function settleDepth(call, last) {
  if (call.depth === null || !last?.cm) return;
  if (last.ms >= call.calledMs && Number(last.cm) === Number(call.depth)) call.depth = null;
}

/**
 * Centre the lens anew once another reading stands last, never under a finger.
 * @param {Call} call
 * @param {{id: string, from: number}} last the reading that stands last, and where its lens begins
 * @returns {number} the lens's first depth, cm
 */
export function settleLens(call, { id, from }) {
  const isStill = performance.now() - call.touchedAt >= STILL_MS && call.depth === null;
  if (call.from === null || (isStill && call.follows !== id)) {
    call.from = from;
    call.follows = id;
  }
  return call.from;
}
