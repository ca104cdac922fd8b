/** @import { Json, JsonObject } from "../types.js" */

/** @typedef {number[][]} Stroke points as [x, y], whole pixels of the drawing's own box */

/**
 * The stroke under a hand: the screen may be drawn anew before it is finished.
 * @type {WeakMap<HTMLCanvasElement, {pointer: number, stroke: Stroke}>}
 */
const underway = new WeakMap();

/**
 * Let a canvas be drawn on with finger, pen or mouse. The strokes are the value, kept
 * in the field's hidden input; the canvas only shows them.
 * @param {HTMLElement} controls
 * @param {() => void} onStroke after each finished stroke
 */
export function bindSketch(controls, onStroke) {
  const canvas = canvasOf(controls);
  canvas.addEventListener("pointerdown", (event) => {
    // The palm that comes down beside the pen does not begin anew.
    if (underway.has(canvas)) return;
    canvas.setPointerCapture(event.pointerId);
    canvas.focus({ preventScroll: true });
    underway.set(canvas, { pointer: event.pointerId, stroke: [pointOf(canvas, event)] });
  });
  canvas.addEventListener("pointermove", (event) => {
    if (!add(canvas, event)) return;
    paint(canvas, strokesOf(controls));
  });
  canvas.addEventListener("pointerup", (event) => add(canvas, event) && finish());
  // A turned tablet or a message on top takes the pointer away, not the ink.
  for (const end of ["pointercancel", "lostpointercapture"]) {
    canvas.addEventListener(end, (event) => underway.get(canvas)?.pointer === /** @type {PointerEvent} */ (event).pointerId && finish());
  }

  function finish() {
    const stroke = underway.get(canvas)?.stroke;
    underway.delete(canvas);
    if (!stroke) return;
    keepStrokes(controls, [...strokesOf(controls), stroke]);
    onStroke();
  }
}

/** @param {HTMLCanvasElement} canvas @param {PointerEvent} event @returns {boolean} false: another pointer */
function add(canvas, event) {
  const under = underway.get(canvas);
  if (under?.pointer !== event.pointerId) return false;
  under.stroke.push(pointOf(canvas, event));
  return true;
}

/**
 * Return the drawing as a value; null while nothing is drawn.
 * @param {HTMLElement} controls
 * @returns {Json}
 */
export function readDrawing(controls) {
  const canvas = canvasOf(controls);
  const strokes = strokesOf(controls);
  return strokes.length ? { width: canvas.width, height: canvas.height, strokes } : null;
}

/**
 * Show a drawing; null wipes the canvas.
 * @param {HTMLElement} controls
 * @param {Json} value
 */
export function showDrawing(controls, value) {
  const strokes = value === null ? [] : /** @type {Stroke[]} */ (/** @type {JsonObject} */ (value).strokes);
  keepStrokes(controls, strokes);
}

/**
 * Paint again what the field holds, as after a change of theme or once a draft is back.
 * @param {HTMLElement} controls
 */
export function repaint(controls) {
  paint(canvasOf(controls), strokesOf(controls));
}

/** @param {HTMLElement} controls @param {Stroke[]} strokes */
function keepStrokes(controls, strokes) {
  hidden(controls).value = strokes.length ? JSON.stringify(strokes) : "";
  paint(canvasOf(controls), strokes);
}

/** @param {HTMLElement} controls @returns {Stroke[]} */
function strokesOf(controls) {
  const text = hidden(controls).value;
  return text ? JSON.parse(text) : [];
}

/** @param {HTMLCanvasElement} canvas @param {Stroke[]} strokes */
function paint(canvas, strokes) {
  const pen = canvas.getContext("2d");
  if (!pen) return;
  pen.clearRect(0, 0, canvas.width, canvas.height);
  Object.assign(pen, { lineWidth: 3, lineCap: "round", lineJoin: "round", strokeStyle: getComputedStyle(canvas).color });
  const under = underway.get(canvas);
  for (const [first, ...rest] of under ? [...strokes, under.stroke] : strokes) {
    if (!first) continue;
    pen.beginPath();
    pen.moveTo(first[0] ?? 0, first[1] ?? 0);
    // A dot is a stroke too.
    for (const [x, y] of rest.length ? rest : [[(first[0] ?? 0) + 1, first[1] ?? 0]]) pen.lineTo(x ?? 0, y ?? 0);
    pen.stroke();
  }
}

/** @param {HTMLCanvasElement} canvas @param {PointerEvent} event @returns {number[]} */
function pointOf(canvas, event) {
  const box = canvas.getBoundingClientRect();
  const within = (/** @type {number} */ at, /** @type {number} */ size, /** @type {number} */ pixels) =>
    Math.min(pixels, Math.max(0, Math.round((at / size) * pixels)));
  return [
    within(event.clientX - box.left, box.width, canvas.width),
    within(event.clientY - box.top, box.height, canvas.height),
  ];
}

/** @param {HTMLElement} controls */
function canvasOf(controls) {
  return /** @type {HTMLCanvasElement} */ (controls.querySelector("canvas"));
}

/** @param {HTMLElement} controls */
function hidden(controls) {
  return /** @type {HTMLInputElement} */ (controls.querySelector("input[type='hidden']"));
}
