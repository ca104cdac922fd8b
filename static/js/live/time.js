import { svg } from "../form/dom.js";
import { say } from "../form/say.js";

const MINUTE_MS = 60_000;
const HEIGHT = 30;
const LETTER = 8.7;
/** px: a flag whose words have no room is a short pole, above the words of others */
const SHORT = 9;
/** Minutes a block may stand for: the ruler is never finer than a block of 4 px. */
const BLOCKS_MIN = [1, 5, 15, 60, 360, 1440];
const MOST_BLOCKS = 60;

/** @typedef {{ms: number, label: string}} Flag */
/** @typedef {{start: number, now: number, flags: Flag[], nowWords: string}} TimeRuler */

/**
 * Draw the time ruler: a block for each minute since the start, a flag for each moment.
 * Longer cases have longer blocks, and say so.
 * @param {TimeRuler} ruler `start`, `now` and flags in Unix milliseconds
 * @param {number} width px
 * @returns {SVGElement}
 */
export function timeRuler({ start, now, flags, nowWords }, width) {
  const minutes = Math.max(0, (now - start) / MINUTE_MS);
  const each = BLOCKS_MIN.find((size) => minutes / size <= MOST_BLOCKS - 8) ?? Math.ceil(minutes / MOST_BLOCKS);
  const count = Math.max(30, Math.ceil((minutes / each) * 1.15));
  const block = width / count;
  const x = (/** @type {number} */ ms) => ((ms - start) / MINUTE_MS / each) * block;
  const right = nowWords.length * LETTER + 20;
  return svg(
    "svg",
    { width, height: HEIGHT, viewBox: `0 0 ${width} ${HEIGHT}`, role: "img", "aria-label": spoken(flags, nowWords, each) },
    ...blocks(count, Math.floor(minutes / each), block),
    ...flagsAt(flags, x, width - right),
    svg("text", { x: width - 12, y: 25, "text-anchor": "end", class: "time-now" }, nowWords),
  );
}

/**
 * @param {number} count
 * @param {number} done
 * @param {number} block
 */
function blocks(count, done, block) {
  return Array.from({ length: count }, (_, at) =>
    svg("rect", {
      x: (at * block + 0.5).toFixed(1),
      y: 0,
      width: Math.max(block - 1, 0.5).toFixed(1),
      height: at < done ? 6 : 2,
      class: at >= done ? "time-ahead" : at % 2 ? "time-odd" : "time-even",
    }),
  );
}

/**
 * Draw each flag. Words go to the latest first: where two have no room, the one that
 * happened last is read, and the other keeps a short pole.
 * @param {Flag[]} flags in time
 * @param {(ms: number) => number} x
 * @param {number} end
 */
function flagsAt(flags, x, end) {
  let free = end;
  return flags.toReversed().flatMap(({ ms, label }) => {
    const left = x(ms);
    if (left < 0 || left > end + 40) return [];
    const isRead = left + 14 + label.length * LETTER <= free;
    const pole = svg("path", { d: `M${(left + 1).toFixed(1)} 0v${isRead ? 25 : SHORT}`, class: "time-pole" });
    if (!isRead) return [pole];
    free = left;
    return [pole, svg("text", { x: (left + 8).toFixed(1), y: 25, class: "time-word" }, label)];
  });
}

/**
 * @param {Flag[]} flags
 * @param {string} nowWords
 * @param {number} each
 */
function spoken(flags, nowWords, each) {
  const told = flags.map((flag) => flag.label).join(", ");
  return say("time.spoken", { each, told, now: nowWords });
}
