/** @import { Complaint, Json } from "../types.js" */
/** @import { FieldIndex, FieldSpec } from "../types-form.js" */
import { say } from "./say.js";
import { isSaid, visible } from "./typed.js";
import { isObject } from "./verdicts.js";
import { words } from "./words.js";
import { check } from "./kinds.js";

/**
 * Return an entry that does not count as a person knows it: its field, and the value as
 * it was typed, whether or not any field takes it.
 * @param {FieldIndex} index
 * @param {Pick<Complaint, "path" | "value" | "op">} complaint
 * @returns {{label: string, typed: string}}
 */
export function complaintWords(index, { path, value, op }) {
  if (path === null) return { label: say("storage.unknown_field"), typed: say("storage.unreadable") };
  const field = index.at(path)?.field ?? index.top(path);
  const label = field?.label ?? path;
  if (op === "strike") return { label, typed: strikeWords(value) };
  return { label, typed: typedWords(field, value) };
}

/**
 * @param {FieldSpec | null} field
 * @param {Json} value
 * @returns {string}
 */
function typedWords(field, value) {
  if (typeof value === "string" && (!field || field.kind === "text" || field.kind === "prose")) return visible(value);
  if (isObject(value) && isSaid(value.as)) return visible([value.as, value.unit].filter(isSaid).join(" "));
  if (field && check(field, value).state !== "illegal") return words(field, value);
  return visible(typeof value === "string" ? value : JSON.stringify(value));
}

/** @param {Json} value */
function strikeWords(value) {
  const reason = isObject(value) && isSaid(value.reason) ? String(value.reason) : "";
  return visible([say("told.op.strike"), reason].filter(Boolean).join(": "));
}
