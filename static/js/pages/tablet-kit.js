/** @import { Bedside } from "../types-form.js" */
import { kitFit, outerDiameterMm } from "../clinical/kit.js";
import { HARD_SHEATH_FR, HARD_WIRE_FR } from "../clinical/kit_remarks.js";
import { finding, remark, weightWord } from "../clinical/remarks.js";
import { point } from "../clinical/rows.js";
import { toldOf } from "../clinical/told.js";
import { el, fill, key, the } from "../form/dom.js";
import { wirePath } from "../form/fields.js";
import { allWords, say } from "../form/say.js";
import { fitDrawing } from "../live/fit.js";
import { lead } from "../live/lead.js";
import { num } from "../live/num.js";
import { bringKey } from "./tablet-bring.js";
import { policyOf } from "./tablet-remarks.js";

const FR = "[Ch]";
/**
 * Sizes that are met, French; domain 2e: introducers quoted 5 to 6.5, wires of 4 to 6. Any
 * other is typed below.
 * @type {{name: "introducer" | "wire", path: string, sizes: string[], hard: [import("../clinical/types.js").Exact, import("../clinical/types.js").Exact]}[]}
 */
const SIZED = [
  { name: "introducer", path: "approach.introducer_fr", sizes: ["5", "5.5", "6", "6.5"], hard: HARD_SHEATH_FR },
  { name: "wire", path: "approach.wire_fr", sizes: ["4", "5", "6"], hard: HARD_WIRE_FR },
];

/**
 * Draw the head of the kit: a key for each common size, the wire in its sheath cut across,
 * and whether it passes. Its fields stand below, for every other size.
 * @param {Bedside} bed
 */
export function drawKit(bed) {
  const first = fieldOf("approach.introducer_fr");
  const before = first.previousElementSibling;
  const at = before instanceof HTMLElement && before.classList.contains("kit") ? before : el("div", { class: "kit" });
  if (at !== before) first.before(at);
  const [sheath, wire] = SIZED.map((one) => sizeOf(bed, one));
  const how = kitFit(sheath ?? null, wire ?? null, toldOf(bed.now.fold, policyOf(bed), null).limits);
  const [sheathMm, wireMm] = [outerDiameterMm(sheath ?? null), outerDiameterMm(wire ?? null)];
  const drawn = { sheathFr: sheath ?? null, wireFr: wire ?? null, sheathMm, wireMm, passes: how !== "does_not_pass" };
  fill(
    at,
    el("div", { class: "kit-keys" }, ...SIZED.map((one) => sizeKeys(bed, one))),
    el("figure", { class: "kit-fit" }, fitDrawing(drawn), el("figcaption", {}, widthLine("sheath", sheathMm), widthLine("wire", wireMm))),
    verdict(how, sheath ?? null, wire ?? null),
    bringKey(bed),
  );
}

/** @param {Bedside} bed @param {typeof SIZED[number]} of */
function sizeKeys(bed, of) {
  const { name, path, sizes } = of;
  const label = say(`kit.${name}`);
  const told = sizeOf(bed, of);
  const keys = sizes.map((fr) => {
    const made = key("", () => choose(path, fr), { "data-act": `kit-${name}-${fr}`, "aria-label": say("kit.size_named", { label, fr }), "aria-pressed": told === fr ? "true" : "false" });
    made.append(num(fr, "Fr", { text: true }));
    return made;
  });
  return el("div", { class: "kit-row", role: "group", "aria-label": say("kit.sizes", { name: label }) }, el("span", { class: "kit-name" }, label), ...keys);
}

/**
 * Answer the field below as if the size had been typed there: its writer knows what stood.
 * @param {string} path @param {string} fr
 */
function choose(path, fr) {
  /** @type {HTMLInputElement} */
  const box = the(".field-controls input.input", fieldOf(path));
  box.value = fr;
  box.dispatchEvent(new Event("input", { bubbles: true }));
  box.dispatchEvent(new FocusEvent("focusout", { bubbles: true }));
}

/** @param {string} path */
function fieldOf(path) {
  return the(`#part-approach .field[data-path="wires/*/${path}"]`);
}

/** Null unless one possible size is said. @param {Bedside} bed @param {typeof SIZED[number]} of */
function sizeOf(bed, { path, hard }) {
  if (!bed.wire) return null;
  const { state, value } = bed.now.answer(wirePath(bed.wire, path));
  return state === "answered" ? point(value, FR, hard).n : null;
}

/** @param {"sheath" | "wire"} of @param {string | null} mm */
function widthLine(of, mm) {
  return el("span", { "data-of": of }, say(`kit.${of}_mm`, { mm: mm ?? "–" }));
}

/** Its place stands before there is a verdict. @param {ReturnType<typeof kitFit>} how @param {string | null} sheath @param {string | null} wire */
function verdict(how, sheath, wire) {
  if (!how) return el("p", { class: "kit-said", role: "status" }, say(sheath || wire ? "kit.one_missing" : "kit.none"));
  const found = remark(`kit_${how}`, how === "fits" ? "fits" : "look_again", { sheath: String(sheath), wire: String(wire) });
  const words = allWords();
  return el("p", { class: "kit-said", role: "status", "data-weight": found.weight }, lead(found.weight), el("b", {}, `${weightWord(found, words)}: ${finding(found, words)}`));
}
