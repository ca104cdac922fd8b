/** @import { JsonObject } from "../types.js" */
/** @import { Bedside } from "../types-form.js" */
import { el } from "./dom.js";
import { say } from "./say.js";

/** How the files of each kind begin; their names prove nothing. @type {[string, RegExp][]} */
const KINDS = [
  ["image/jpeg", /^\xff\xd8\xff/],
  ["image/png", /^\x89PNG\r\n\x1a\n/],
  ["image/webp", /^RIFF[^]{4}WEBP/],
];

/**
 * Take a chosen file in: its bytes are kept first, then its name in the field. A photo
 * that stood there and is in no entry yet is let go.
 * @param {HTMLElement} controls
 * @param {Bedside} bed
 * @returns {Promise<boolean>} false: no picture was kept, and the field says why
 */
export async function takePicture(controls, bed) {
  const input = /** @type {HTMLInputElement} */ (controls.querySelector(".photo-file"));
  const file = input.files?.[0];
  if (!file) return false;
  const caption = /** @type {HTMLInputElement} */ (controls.querySelector(".photo-caption"));
  const hidden = /** @type {HTMLInputElement} */ (controls.querySelector("input[type='hidden']"));
  try {
    const kind = await kindOf(file);
    if (!kind || !(await sizeOf(file))) return told(controls, say("photo.not_a_picture", { name: file.name }));
    const before = hidden.value;
    const photo = new Blob([file], { type: kind });
    hidden.value = JSON.stringify(await bed.store.putPhoto(bed.record, photo, caption.value.trim()));
    if (before) await bed.store.forgetPhoto(JSON.parse(before));
    return true;
  } catch {
    return told(controls, say("photo.not_kept", { name: file.name }));
  } finally {
    input.value = "";
  }
}

/**
 * Show the picture a value names, or say that it is not on this tablet.
 * @param {HTMLElement} controls
 * @param {JsonObject | null} value
 * @param {Bedside} bed
 */
export async function showPicture(controls, value, bed) {
  const old = /** @type {HTMLImageElement | null} */ (controls.querySelector(".photo-shown"));
  if (old?.dataset.sealed === String(value?.sealed ?? "")) return;
  if (old) URL.revokeObjectURL(old.src);
  old?.remove();
  // A file that was refused stays said until a picture takes its place.
  if (!value) return;
  told(controls, "");
  const blob = await bed.store.photo({ sealed: String(value.sealed) });
  if (!blob) return void told(controls, say("photo.elsewhere"));
  const alt = String(value.caption || say("photo.alt"));
  const shown = el("img", { class: "photo-shown", alt, "data-sealed": String(value.sealed) });
  shown.src = URL.createObjectURL(blob);
  controls.querySelector(".photo-shown")?.remove();
  controls.append(shown);
}

/**
 * @param {File} file
 * @returns {Promise<string | undefined>} none: of no kind that the server shows
 */
async function kindOf(file) {
  const start = String.fromCharCode(...new Uint8Array(await file.slice(0, 12).arrayBuffer()));
  return KINDS.find(([, begins]) => begins.test(start))?.[0];
}

/**
 * Decode a file as a picture: its type alone proves nothing.
 * @param {File} file
 * @returns {Promise<{width: number, height: number} | null>}
 */
async function sizeOf(file) {
  try {
    const bitmap = await createImageBitmap(file);
    const { width, height } = bitmap;
    bitmap.close();
    return width && height ? { width, height } : null;
  } catch (error) {
    if (error instanceof DOMException) return null;
    throw error;
  }
}

/** @param {HTMLElement} controls @param {string} text @returns {false} */
function told(controls, text) {
  const line = controls.querySelector(".photo-said") ?? controls.appendChild(el("p", { class: "photo-said", role: "status" }));
  line.textContent = text;
  return false;
}
