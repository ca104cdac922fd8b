/** @import { CaseRead } from "../types-form.js" */
import { derived } from "./derived.js";
import { say } from "./say.js";

/** @typedef {{place: string, placeName: string, name: string, facts: string, isNamed: boolean}} Identity */

/**
 * Return who a record is about, whole: nothing of it is ever cut.
 * @param {CaseRead} now
 * @returns {Identity}
 */
export function identityOf(now) {
  const told = (/** @type {string} */ path) => {
    const answer = now.answer(path);
    return ["answered", "two_answers", "impossible"].includes(answer.state) ? answer.words : "";
  };
  const name = [told("patient.family_name"), told("patient.given_name")].filter(Boolean).join(", ");
  const alias = told("patient.alias");
  const number = told("patient.record_number");
  const facts = [
    name ? "" : alias,
    [told("patient.sex").toLowerCase(), ageOf(now, told)].filter(Boolean).join(", "),
    told("patient.birth_date") && say("who.born", { date: told("patient.birth_date") }),
    number && say("who.number", { number }),
    now.answer("patient.wristband_read").heads.length ? say("who.band_read") : say("who.no_band"),
  ];
  return {
    place: told("patient.case_code") || "–",
    placeName: say("who.case"),
    name: name || say("who.nameless"),
    facts: facts.filter(Boolean).join(" · "),
    isNamed: Boolean(name),
  };
}

/**
 * @param {CaseRead} now
 * @param {(path: string) => string} told
 */
function ageOf(now, told) {
  const years = told("patient.birth_date") ? derived(now.fold, "derived.age_years") : null;
  if (years) return say("who.years", { years: years.n });
  const guess = told("patient.estimated_age");
  if (guess) return now.answer("patient.age_how").value === "told" ? guess : say("who.about", { age: guess });
  return told("patient.age_class").toLowerCase();
}
