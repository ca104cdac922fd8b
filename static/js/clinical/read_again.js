/** @import { Found, Told } from "./types-found.js" */
/** @import { Dial, Remark, StandingRow } from "./types.js" */
import { settingsRows, toldAsynchronous } from "./asynchronous.js";
import { depthCompared, depthLooks, depthRead, finalDepth } from "./depth_moved.js";
import { shownOn } from "./dial.js";
import { compare, number } from "./exact.js";
import { found, idsInOrder } from "./found.js";
import { dialInUse, outputOf } from "./left_at.js";
import { modeOf } from "./mode.js";
import { isOver } from "./over.js";
import { remark } from "./remarks.js";
import { isObject, point, rowsOf } from "./rows.js";
import { shown } from "./shown.js";
import { countBefore, when } from "./way.js";
import { sensitivityDial } from "./wire_sensing.js";

const NAMES = ["rate", "output", "sensitivity", "mode"];
/** @type {{[name: string]: string[]}} */
const KEYS = { output: ["output", "output_v"], sensitivity: ["sensitivity", "asynchronous"] };

/**
 * Return each value that a receiver read otherwise than it was left. Only like is compared with
 * like: exact numbers of one unit, depths of one reference point. The last reader's stands until
 * the value is read back anew.
 * @param {Told} told
 * @param {string} wire
 * @returns {Found[]}
 */
export function readAgainRemarks(told, wire) {
  const rows = rowsOf(told.fold, `wires/${wire}/handover.receiver_reads`);
  const sent = settingsRows(told.fold, wire);
  return rows.flatMap((row, n) => {
    const isLast = n === rows.length - 1 && !isOver(told.fold, wire);
    const count = countBefore(sent, when(row));
    const [before, after] = [sent.slice(0, count), sent.slice(count)];
    const all = NAMES.flatMap((name) => {
      const says = (/** @type {StandingRow} */ one) => (name === "output" && isMaximum(one)) || valueOf(told, wire, one, name).text !== null;
      const keys = KEYS[name] ?? [name];
      // Whatever it says: no older number stands in for the last answer.
      const tells = before.findLast((one) => keys.some((key) => key in one.value));
      const one = tells ? otherwise(told, wire, tells, row, name) : null;
      if (!tells || !one) return [];
      const isAnew = after.some(says);
      return [found(one, row.path, wire, idsInOrder([tells, row]), isLast && !isAnew)];
    });
    return [...all, ...depth(told, wire, row, isLast)];
  });
}

/**
 * Return what a row says under a name, and its unit; null where nothing exact.
 * @param {Told} told
 * @param {string} wire
 * @param {StandingRow} row
 * @param {string} name
 * @returns {{text: string | null, unit: string}}
 */
function valueOf(told, wire, row, name) {
  if (name === "rate") return { text: point(row.value.rate, "/min").n, unit: "/min" };
  if (name === "output") {
    const { n, unit } = outputOf(row, dialInUse(told.fold, wire).dial);
    return { text: n, unit };
  }
  if (name === "sensitivity") return { text: toldAsynchronous(row) ? "" : point(row.value.sensitivity, "mV").n, unit: "mV" };
  return { text: modeOf(row.value.mode)?.code ?? null, unit: "" };
}

/**
 * @param {Told} told
 * @param {string} wire
 * @param {StandingRow} sent
 * @param {StandingRow} read
 * @param {string} name
 * @returns {Remark | null}
 */
function otherwise(told, wire, sent, read, name) {
  if (name === "output" && (isMaximum(sent) || isMaximum(read))) return againstMaximum(told, wire, sent, read);
  const [left, seen] = [valueOf(told, wire, sent, name), valueOf(told, wire, read, name)];
  if (left.text === null || seen.text === null || left.unit !== seen.unit || isSame(left.text, seen.text)) return null;
  const [a, b] = [left.text, seen.text];
  const dial = dialFor(told, wire, name);
  /** @type {{[name: string]: string}} */
  const values = {};
  if (a) values.sent = shownAs(a, name, dial);
  if (b) values.read = shownAs(b, name, dial);
  if (name === "output") values.unit = seen.unit;
  if (a && b) return remark(`handover_${name}`, "look_now", values);
  return remark(a ? "handover_asynchronous" : "handover_sensing", "look_now", values);
}

/** Whether the output was said to be the dial's maximum. @param {StandingRow} row @returns {boolean} */
function isMaximum({ value }) {
  const told = value.output ?? value.output_v;
  return isObject(told) && told.special === "maximum";
}

/** A number held against "maximum", which is told as that word. @param {Told} told @param {string} wire @param {StandingRow} sent @param {StandingRow} read @returns {Remark | null} */
function againstMaximum(told, wire, sent, read) {
  const [left, seen] = [sent, read].map((row) => valueOf(told, wire, row, "output"));
  const isSent = isMaximum(sent);
  const exact = isSent ? seen.text : left.text;
  if (exact === null || left.unit !== seen.unit || isSent === isMaximum(read)) return null;
  if (left.text !== null && seen.text !== null && isSame(left.text, seen.text)) return null;
  const text = shownAs(exact, "output", dialFor(told, wire, "output"));
  if (isSent) return remark("handover_left_maximum", "look_now", { read: text, unit: seen.unit });
  return remark("handover_read_maximum", "look_now", { sent: text, unit: seen.unit });
}

/** @param {string} left @param {string} seen */
function isSame(left, seen) {
  const [a, b] = [number(left), number(seen)];
  return a && b ? compare(a, b) === 0 : left === seen;
}

/** @param {Told} told @param {string} wire @param {string} name @returns {Dial | null} */
function dialFor(told, wire, name) {
  if (name === "output") return dialInUse(told.fold, wire).dial;
  return name === "sensitivity" ? sensitivityDial(told.fold, wire) : null;
}

/** @param {string} text @param {string} name @param {Dial | null} dial */
function shownAs(text, name, dial) {
  if (name === "rate") return shown(text);
  return dial ? shownOn(dial, text) : text;
}

/**
 * Return a depth that differs by as much as counts as moved, of one reference.
 * @param {Told} told
 * @param {string} wire
 * @param {StandingRow} row
 * @param {boolean} isLast
 * @returns {Found[]}
 */
function depth(told, wire, row, isLast) {
  const read = depthRead(row.value, [row.id]);
  const looks = depthLooks(told.fold, wire);
  const final = finalDepth(told.fold, wire);
  const count = countBefore(looks.map((look) => look.row), when(row));
  const earlier = looks.slice(0, count);
  const isChecked = earlier.some((look) => look.row.path.endsWith(".check"));
  const before = [...earlier.map((look) => look.depth), ...(final && !isChecked ? [final] : [])];
  const like = read && before.findLast((one) => one.read_at === read.read_at);
  if (!read || !like || depthCompared(like, read, told.limits) !== "moved") return [];
  const one = remark("handover_depth", "look_now", { sent: like.shown, read: read.shown });
  return [found(one, row.path, wire, [...like.ids, ...read.ids], isLast && count === looks.length)];
}
