/** Values with parts of their own: the kinds "person", "photo" and "drawing". */

import { isSaid, trim } from "./typed.js";
import { OK, hasKeys, illegal, isObject } from "./verdicts.js";

/** @typedef {import("../types-form.js").FieldSpec} FieldSpec */
/** @typedef {import("../types.js").JsonObject} JsonObject */
/** @typedef {import("../types-form.js").Verdict} Verdict */

const PHOTO_TYPES = ["image/jpeg", "image/png", "image/webp"];
const PERSON_KEYS = ["person", "name", "role", "credential"];
const UUID = /^[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;
const SHA256 = /^[0-9a-f]{64}$/;
const PAPER = 10_000;

/**
 * Tell whether `value` is a UUID in lower case.
 * @param {unknown} value
 * @returns {value is string}
 */
export function isId(value) {
  return typeof value === "string" && UUID.test(value);
}

/**
 * @param {unknown} value
 * @param {number} low
 * @param {number} high
 * @returns {value is number}
 */
function isWhole(value, low, high) {
  return typeof value === "number" && Number.isSafeInteger(value) && value >= low && value <= high;
}

/**
 * Return a person known by a typed name only.
 * @param {string} raw
 * @returns {JsonObject}
 */
export function readPerson(raw) {
  return { person: null, name: trim(raw), role: "", credential: "" };
}

/**
 * Judge a JSON value of kind person; role and credential may be left out.
 * @param {FieldSpec} field
 * @param {unknown} value
 * @returns {Verdict}
 */
export function checkPerson(field, value) {
  if (!isObject(value) || !Object.keys(value).every((key) => PERSON_KEYS.includes(key))) return illegal(field);
  const isKnown = value.person === null || isId(value.person);
  const isText = [value.role ?? "", value.credential ?? ""].every((text) => typeof text === "string") &&
    value.role !== null && value.credential !== null;
  return isKnown && isText && isSaid(value.name) ? OK : illegal(field);
}

/**
 * Judge a JSON value of kind photo: digests, type, size, caption; not the bytes.
 * @param {FieldSpec} field
 * @param {unknown} value
 * @returns {Verdict}
 */
export function checkPhoto(field, value) {
  if (!isObject(value) || !hasKeys(value, ["sha256", "sealed", "type", "size", "caption"])) return illegal(field);
  const fits = [value.sha256, value.sealed].every((digest) => typeof digest === "string" && SHA256.test(digest)) &&
    typeof value.type === "string" && PHOTO_TYPES.includes(value.type) &&
    isWhole(value.size, 1, Number.MAX_SAFE_INTEGER) && typeof value.caption === "string";
  return fits ? OK : illegal(field);
}

/**
 * Judge a JSON value of kind drawing: at least one stroke of whole points.
 * @param {FieldSpec} field
 * @param {unknown} value
 * @returns {Verdict}
 */
export function checkDrawing(field, value) {
  if (!isObject(value) || !hasKeys(value, ["width", "height", "strokes"])) return illegal(field);
  const fits = isWhole(value.width, 1, PAPER) && isWhole(value.height, 1, PAPER) &&
    Array.isArray(value.strokes) && value.strokes.length > 0 && value.strokes.every(isStroke);
  return fits ? OK : illegal(field);
}

/**
 * @param {unknown} stroke
 * @returns {boolean}
 */
function isStroke(stroke) {
  return Array.isArray(stroke) && stroke.length > 0 && stroke.every((point) =>
    Array.isArray(point) && point.length === 2 && point.every((number) => isWhole(number, -PAPER, PAPER)));
}
