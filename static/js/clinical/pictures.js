/** @import { Fold } from "../types.js" */
/** @import { StandingRow } from "./types.js" */
import { momentMs, rowsOf } from "./rows.js";

/**
 * Return the first row of each picture of these kinds, in time. Awaited is not taken. Two
 * rows are one picture where they name the same order or the same archive reference; a
 * report is one of the picture seen before it.
 * @param {Fold} fold
 * @param {string[]} kinds
 * @returns {StandingRow[]}
 */
export function taken(fold, kinds) {
  /** @type {StandingRow[][]} */
  const pictures = [];
  for (const row of rowsOf(fold, "finish.imaging")) {
    const { kind, state } = row.value;
    if (!kinds.includes(kind) || state === "awaited") continue;
    const alike = [...pictures].reverse().filter(([first]) => first.value.kind === kind);
    const same = alike.find((picture) => isNamed(picture, row)) ?? alike.find((picture) => isReportOf(picture, row));
    if (same) same.push(row);
    else pictures.push([row]);
  }
  return pictures.map(([first]) => first);
}

/** @param {StandingRow} row */
function orderedMs({ value }) {
  return momentMs(value.ordered);
}

/** @param {StandingRow} row */
function referenceOf({ value: { reference } }) {
  return typeof reference === "string" && reference ? reference : null;
}

/** Whether the row names the order or the reference of a picture. @param {StandingRow[]} picture @param {StandingRow} row */
function isNamed(picture, row) {
  const [ordered, reference] = [orderedMs(row), referenceOf(row)];
  return picture.some((one) => (ordered !== null && orderedMs(one) === ordered) || (reference !== null && referenceOf(one) === reference));
}

/**
 * Whether the row is the first report of a picture that somebody saw. Not where an order or
 * a reference tells them apart, nor where it was ordered later.
 * @param {StandingRow[]} picture
 * @param {StandingRow} row
 */
function isReportOf(picture, row) {
  if (row.value.state !== "reported" || picture.some(({ value }) => value.state === "reported")) return false;
  const [ordered, reference] = [orderedMs(row), referenceOf(row)];
  if (ordered !== null && ordered > picture[0].time_ms) return false;
  const isOrdered = picture.some((one) => orderedMs(one) !== null);
  const isFiled = picture.some((one) => referenceOf(one) !== null);
  return (ordered === null || !isOrdered) && (reference === null || !isFiled);
}
