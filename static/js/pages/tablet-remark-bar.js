/** @import { Bedside } from "../types-form.js" */
/** @import { Found } from "../clinical/types-found.js" */
import { asks, finding, sourceLine, weightWord } from "../clinical/remarks.js";
import { el, fill, key, the } from "../form/dom.js";
import { allWords, say } from "../form/say.js";
import { lead } from "../live/lead.js";
import { drawOpenRemarks, showRemarks } from "./tablet-remark-sheet.js";
import { openRemarks, partOf, policyOf, remarksOf, whenRemarked } from "./tablet-remarks.js";

/**
 * Draw the weightiest remark in its reserved place, the rest counted, once the page has
 * nothing else to do: a tap is answered first.
 * @param {Bedside} bed
 * @param {string} part in view: of equally heavy ones its own comes first
 * @param {import("../form/unfinished.js").Drafts} drafts
 */
export function drawRemark(bed, part, drafts) {
  const { record, now } = bed;
  const bar = the("#remark");
  // What was found in another case is not said of this one for a moment.
  if (bar.dataset.ofRecord !== record) for (const said of ["#remark-said", "#remark-all"]) the(said, bar).replaceChildren();
  bar.dataset.ofRecord = record;
  void whenRemarked(bed).then(() => {
    if (bed.record !== record || bed.now !== now) return;
    const open = openRemarks(bed);
    const [first] = byPart(open, part);
    fill(the("#remark-said"), remarkLine(bed, first));
    fill(the("#remark-all"), allKey(bed, open.length, Boolean(first), drafts));
    drawOpenRemarks();
  });
}

/** A "fits" is said where it was found; what is heavier, everywhere. @param {Found[]} open @param {string} part */
function byPart(open, part) {
  const isHere = (/** @type {Found} */ one) => partOf(one) === part;
  const heaviest = open.find((one) => one.remark.weight !== "fits")?.remark.weight ?? "fits";
  const equal = open.filter((one) => one.remark.weight === heaviest);
  const here = equal.filter(isHere);
  return here.length || heaviest === "fits" ? here : equal;
}

/**
 * One remark: lead, weight word and finding; below what policy asks and whose limit it is,
 * the first of several: all of them stand in the list.
 * @param {Bedside} bed
 * @param {Pick<Found, "remark">} [first]
 */
export function remarkLine(bed, first) {
  if (!first) return el("div", { class: "remark" });
  const table = allWords();
  const { remark } = first;
  const told = [asks(remark, table), sourceLine({ ...remark, limits: remark.limits.slice(0, 1) }, policyOf(bed).rows, table)].filter(Boolean).join(" ");
  return el(
    "div",
    { class: "remark", "data-weight": remark.weight },
    lead(remark.weight),
    el("b", {}, `${weightWord(remark, table)}: ${finding(remark, table)}`),
    el("p", {}, told),
  );
}

/** @param {Bedside} bed @param {number} count @param {boolean} isOneSaid @param {import("../form/unfinished.js").Drafts} drafts */
function allKey(bed, count, isOneSaid, drafts) {
  if (!remarksOf(bed).length) return null;
  const words = isOneSaid && count > 1 ? say("remark.more", { count: count - 1 }) : say("remark.title");
  return key(words, () => void showRemarks(the("#who-sheet"), bed, drafts), { "data-act": "remarks", "aria-label": say("remark.open", { words, count }) });
}
