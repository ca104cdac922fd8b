/** @import { Source, Who } from "../types.js" */
/** @import { Bedside, Standing } from "../types-form.js" */
import { el, fill, key, the } from "../form/dom.js";
import { say } from "../form/say.js";
import { keepNames } from "./tablet-names.js";

/** @type {Source[]} */
const SOURCES = ["seen", "told", "device", "copied"];
/** Further people are found by typing. */
const KEYS = 8;
const ROLES = ["operator", "assistant", "nurse", "supervisor"];

/**
 * Show who is at this tablet, whose observation is entered, who called it out and how
 * it is known. What is chosen stands for each entry from then on, until changed.
 * @param {HTMLElement} sheet
 * @param {Bedside} bed
 * @param {(standing: Standing) => void} onDone
 * @param {string} [why] it is asked now
 */
export function showWho(sheet, bed, onDone, why = say("who.note")) {
  const { at, author, called_by, source } = bed.standing;
  const isCase = bed.record !== "";
  const self = whoField("at", say("who.at"), at, bed);
  const seen = whoField("author", say("who.author"), author, bed, say("who.same"));
  const called = whoField("called", say("who.called"), called_by, bed, say("who.nobody_called"));
  const how = sourceField(source);
  const close = () => {
    drafts.drop();
    sheet.hidden = true;
    sheet.replaceChildren();
  };
  const done = () => {
    const next = { at: self.read() ?? nobody(), author: seen.read(), called_by: called.read(), source: how.read() };
    close();
    onDone(next);
  };
  const body = el("div", { class: "sheet-body" }, self.root, ...(isCase ? [seen.root, called.root, how.root] : []));
  const drafts = keepNames(bed, body);
  const title = el("h3", { class: "sheet-name", id: "who-name" }, say("who.title"));
  sheet.replaceChildren(
    el("header", { class: "sheet-head" }, title, el("p", { class: "sheet-of" }, why)),
    body,
    el("div", { class: "sheet-keys" }, key(say("who.done"), done, { "data-weight": "first", "data-act": "who-done" }), key(say("who.leave"), close, { "data-act": "drop-row" })),
  );
  sheet.hidden = false;
  // A handler that answers false would take each key away, also those that write.
  sheet.onkeydown = (event) => {
    if (event.key === "Escape") close();
  };
  the("input", body).focus({ preventScroll: true });
}

/**
 * Offer the people known here wherever a name is typed.
 * @param {Bedside} bed
 */
export function listPeople(bed) {
  fill(the("#people"), ...bed.people.map((person) => el("option", { value: person.name }, person.role)));
}

/** @returns {Who} */
export function nobody() {
  return { person: null, name: "", role: "" };
}

/**
 * One person: a key for each known one, or a name and a role typed.
 * @param {string} name
 * @param {string} label
 * @param {Who | null} now
 * @param {Bedside} bed
 * @param {string} [none] the word for nobody of their own
 */
function whoField(name, label, now, bed, none = "") {
  const text = el("input", { class: "input person-name", type: "text", list: "people", autocomplete: "off", placeholder: say("person.name"), "aria-label": say("who.name_of", { label }), "data-who": name });
  const role = el("input", { class: "input person-role", type: "text", list: "roles", autocomplete: "off", placeholder: say("person.role"), "aria-label": say("who.role_of", { label }), "data-who-role": name });
  const put = (/** @type {Who | null} */ who) => {
    text.value = who?.name ?? "";
    role.value = who?.role ?? "";
    mark();
  };
  const keys = bed.people.slice(0, KEYS).map((person) => key(person.name, () => put({ person: person.id, name: person.name, role: person.role }), { "data-person": person.id }));
  const empty = none ? key(none, () => put(null), { "data-person": "" }) : null;
  const mark = () => {
    const known = personOf(bed, text.value);
    for (const one of [...keys, ...(empty ? [empty] : [])]) {
      const isOn = one.dataset.person ? one.dataset.person === known?.id : !text.value.trim();
      one.setAttribute("aria-pressed", String(isOn));
    }
  };
  text.addEventListener("input", mark);
  put(now?.name ? now : null);
  const roles = el("datalist", { id: "roles" }, ...ROLES.map((word) => el("option", { value: word })));
  const controls = el("div", { class: "field-controls" }, empty, ...keys, text, role, name === "at" ? roles : null);
  const root = el("div", { class: "field", role: "group", "aria-label": label }, el("div", { class: "field-name" }, el("span", { class: "field-label" }, label)), controls);
  /** @returns {Who | null} */
  const read = () => {
    const said = text.value.trim();
    if (!said) return null;
    const known = personOf(bed, said);
    return { person: known?.id ?? null, name: said, role: role.value.trim() || (known?.role ?? "") };
  };
  return { root, read };
}

/** @param {Source} now */
function sourceField(now) {
  let chosen = now;
  const keys = SOURCES.map((source) =>
    key(say(`who.source.${source}`), () => mark(source), { "data-source": source }),
  );
  const mark = (/** @type {Source} */ source) => {
    chosen = source;
    for (const one of keys) one.setAttribute("aria-pressed", String(one.dataset.source === source));
  };
  mark(now);
  const label = say("who.how_known");
  const name = el("div", { class: "field-name" }, el("span", { class: "field-label" }, label), el("p", { class: "field-hint" }, say("who.how_known_hint")));
  const root = el("div", { class: "field", role: "group", "aria-label": label }, name, el("div", { class: "field-controls" }, el("div", { class: "pair" }, ...keys)));
  return { root, read: () => chosen };
}

/** @param {Bedside} bed @param {string} name */
function personOf(bed, name) {
  return bed.people.find((person) => person.name === name.trim());
}
