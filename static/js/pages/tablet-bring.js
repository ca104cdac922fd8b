/** @import { Bedside } from "../types-form.js" */
import { el, key } from "../form/dom.js";
import { say } from "../form/say.js";
import { showOverPaper } from "./tablet-over-paper.js";

/**
 * Return the key to the hospital's list of what to fetch; null: it names nothing.
 * @param {Bedside} bed
 * @returns {HTMLElement | null}
 */
export function bringKey(bed) {
  return kinds(bed).length ? key(say("bring.key"), () => void showOverPaper(bed, say("bring.title"), async () => list(bed)), { "data-act": "bring" }) : null;
}

/** By kind of case, a box to tick on paper before each thing. @param {Bedside} bed */
function list(bed) {
  return el(
    "div",
    { class: "bring" },
    el("h1", { class: "paper-title" }, say("bring.title")),
    el("p", { class: "quiet" }, say("bring.note")),
    ...kinds(bed).map(({ kind, things }) => el("section", { class: "bring-kind" }, el("h2", {}, kind), el("ul", {}, ...things.map((thing) => el("li", {}, thing))))),
  );
}

/**
 * A line is "kind: thing; thing"; one without a kind stands under no head.
 * @param {Bedside} bed
 * @returns {{kind: string, things: string[]}[]}
 */
function kinds({ form }) {
  const lines = Array.isArray(form.bring) ? form.bring.map(String) : [];
  return lines.flatMap((line) => {
    const [, kind = "", rest = ""] = /^(?:([^:;]*):)?(.*)$/su.exec(line) ?? [];
    const things = rest.split(";").map((thing) => thing.trim()).filter(Boolean);
    return things.length ? [{ kind: kind.trim(), things }] : [];
  });
}
