/** @import { Json, JsonObject } from "../types.js" */

/** @typedef {number[][]} Stroke points as [x, y], whole pixels of the drawing's own box */

/**
 * Let a canvas be drawn on with finger, pen or mouse. The strokes are the value, kept
 * in the field's hidden input; the canvas only shows them.
 * @param {HTMLElement} controls
 * @param {() => void} onStroke after each finished stroke
 */
export function bindSketch(controls, onStroke) {
  const canvas = canvasOf(controls);
  /** @type {Stroke | null} */
  let stroke = null;
  const add = (/** @type {PointerEvent} */ event) => stroke?.push(pointOf(canvas, event));
  canvas.addEventListener("pointerdown", (event) => {
    canvas.setPointerCapture(event.pointerId);
    canvas.focus({ preventScroll: true });
    stroke = [pointOf(canvas, event)];
  });
  canvas.addEventListener("pointermove", (event) => {
    if (!stroke) return;
    add(event);
    paint(canvas, [...strokesOf(controls), stroke]);
  });
  canvas.addEventListener("pointerup", (event) => {
    if (!stroke) return;
    add(event);
    keepStrokes(controls, [...strokesOf(controls), stroke]);
    stroke = null;
    onStroke();
  });
  canvas.addEventListener("pointercancel", () => {
    stroke = null;
    paint(canvas, strokesOf(controls));
  });
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
 * Paint again what the field holds, as after a change of theme.
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
  for (const [first, ...rest] of strokes) {
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
