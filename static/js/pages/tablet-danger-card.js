/** @import { Bedside } from "../types-form.js" */
import { el, fill, key, the } from "../form/dom.js";
import { say } from "../form/say.js";
import { settingOf } from "../form/today.js";
import { lead } from "../live/lead.js";
import { exactMoment } from "../log/clock.js";
import { cardNumbers } from "./tablet-danger-numbers.js";

/** @typedef {{record: string, part: string, path: string, id: string}} OpenCard path and id of the loss; "" while it is written */

/** @type {OpenCard | null} it outlives each drawing, and ends with its case */
let open = null;

/**
 * Open the hospital's card for a loss of capture. It lies over the work and nothing else:
 * who, the standing row, the receipt and the keys below stay.
 * @param {Bedside} bed
 * @param {string} part capture or checks
 * @returns {{of: (loss: {path: string, id: string}) => void}} what takes the row, once it is kept
 */
export function openCard(bed, part) {
  /** @type {OpenCard} */
  const made = { record: bed.record, part, path: "", id: "" };
  open = made;
  const sheet = the("#card");
  fill(sheet);
  drawCard(bed, () => {});
  /** @type {HTMLElement | null} */ (sheet.querySelector("[data-act='card-close']"))?.focus({ preventScroll: true });
  return {
    of(loss) {
      Object.assign(made, loss);
      bed.refresh();
    },
  };
}

/** Take the card away. */
export function closeCard() {
  open = null;
  const sheet = the("#card");
  sheet.hidden = true;
  fill(sheet);
}

/**
 * Draw the open card: the numbers as they stand, the hospital's lines, the key that says
 * capture is back. A loss that was struck takes its card along.
 * @param {Bedside} bed
 * @param {import("./tablet-danger.js").DangerPage["addRow"]} addRow
 */
export function drawCard(bed, addRow) {
  if (!open) return;
  const { id, path, part, record } = open;
  const isStruck = id !== "" && bed.now.rows(path, true).some((row) => row.id === id && row.struck);
  if (record !== bed.record || isStruck) return closeCard();
  const sheet = the("#card");
  const [title = "", ...lines] = cardLines(bed);
  const isBack = bed.now.rows(path.replace("capture_lost", "capture_regained")).some((row) => row.value.of === id);
  const close = key(say("danger.card_close"), closeCard, { "data-act": "card-close", "data-weight": "first" });
  const body = sheet.querySelector(".card-lines") ?? el("ol", { class: "card-lines", tabindex: "0" });
  fill(body, ...lines.map(lineOf));
  fill(
    sheet,
    el("header", { class: "sheet-head" }, lead("look_now"), el("h3", { class: "sheet-name", id: "card-name" }, title), el("p", { class: "sheet-of" }, say("danger.card_of")), el("div", { class: "card-keys" }, id ? backKey(bed, { part, path, id, isBack }, addRow) : null, close)),
    el("div", { class: "card-numbers" }, ...cardNumbers(bed, settingOf(bed).today)),
    body,
  );
  sheet.hidden = false;
  sheet.onkeydown = (event) => {
    if (event.key === "Escape") closeCard();
  };
}

/** @param {Bedside} bed @returns {string[]} */
function cardLines(bed) {
  return String(bed.policy.card ?? "").split("\n").filter((line) => line.trim());
}

/** A line's own first words stand out: they are read across the room. @param {string} line */
function lineOf(line) {
  const [, mark = "", first = "", rest = ""] = /^\s*(\d+\.|-)?\s*([^.?:]*[.?:]?)(.*)$/.exec(line) ?? [];
  return el("li", { class: mark === "-" ? "card-way" : "card-line" }, mark && mark !== "-" ? el("span", { class: "card-place" }, mark) : null, el("span", {}, el("b", {}, first), rest));
}

/**
 * @param {Bedside} bed
 * @param {{part: string, path: string, id: string, isBack: boolean}} loss
 * @param {import("./tablet-danger.js").DangerPage["addRow"]} addRow
 */
function backKey(bed, { part, path, id, isBack }, addRow) {
  const at = path.replace("capture_lost", "capture_regained");
  if (isBack) {
    return key(say("danger.what_brought"), () => {
      closeCard();
      addRow(part, `${part}.capture_regained`, id);
    }, { "data-act": "what-brought", "data-of": id });
  }
  const stamp = async () => {
    const value = { of: id, moment: exactMoment(bed.clock(), bed.store.zone()) };
    await bed.keep({ path: at, op: "add", value }, { label: say("danger.lost"), words: say("danger.capture_back") });
    bed.refresh();
  };
  return key(say("danger.capture_back"), () => void bed.during(stamp()), { "data-act": "capture-back", "data-of": id });
}
