/** @import { CaseRead } from "../types-form.js" */
import { el } from "../form/dom.js";
import { say } from "../form/say.js";
import { lead } from "../live/lead.js";

/**
 * Return the family name that two people bear, as said, or "".
 * @param {CaseRead[]} cases
 */
function alikeName(cases) {
  const names = cases.map((now) => now.answer("patient.family_name")).filter(({ state }) => state === "answered");
  const plain = names.map(({ words }) => words.trim().normalize("NFKD").replace(/\p{M}/gu, "").toLocaleLowerCase());
  const at = plain.findIndex((name, n) => plain.indexOf(name) !== n);
  return names[at]?.words ?? "";
}

/**
 * Return the remark on two people with one name, or nothing.
 * @param {CaseRead[]} cases
 */
export function alikeLine(cases) {
  const name = alikeName(cases);
  return name ? el("p", { class: "cases-alike", "data-weight": "look_again" }, lead("look_again"), el("b", {}, say("switch.alike", { name }))) : null;
}
