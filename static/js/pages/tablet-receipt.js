/** @import { Receipt } from "../types-form.js" */
import { el, key } from "../form/dom.js";
import { say } from "../form/say.js";

const KEY_STAYS_MS = 10_000;
const PULSE_MS = 40;
/** Three lines beside the key of a phone; the field holds the whole. */
const LETTERS = 48;

/**
 * Return what shows receipts in the place kept for them. A named strike key stays for
 * 10 s; what was not kept stays until it is.
 * @param {HTMLElement} at
 * @param {(ms: number) => string} timeWords
 * @returns {(receipt: Receipt) => void}
 */
export function receipts(at, timeWords) {
  let timer = 0;
  const said = el("p", { class: "kept-said", role: "status" });
  const failed = el("p", { class: "kept-said", role: "alert" });
  const place = el("div", { class: "kept-key" });
  at.replaceChildren(said, failed, place);
  failed.hidden = true;

  return (receipt) => {
    const isKept = receipt.state === "kept";
    // One pulse for kept; a browser allows none before the first tap.
    if (isKept && navigator.userActivation?.hasBeenActive) navigator.vibrate?.(PULSE_MS);
    at.dataset.state = receipt.state;
    said.hidden = !isKept;
    failed.hidden = isKept;
    const line = isKept ? said : failed;
    line.replaceChildren(...words(receipt, timeWords));
    clearTimeout(timer);
    const act = receipt.act && receipt.onAct ? key(receipt.act, tapped(receipt.onAct), { "data-act": isKept ? "strike-kept" : "again" }) : null;
    place.replaceChildren(...(act ? [act] : []));
    if (isKept && act) timer = setTimeout(() => act.remove(), KEY_STAYS_MS);
  };

  /** @param {() => void} onAct */
  function tapped(onAct) {
    return () => {
      place.replaceChildren();
      onAct();
    };
  }
}

/** @param {Receipt} receipt @param {(ms: number) => string} timeWords */
function words(receipt, timeWords) {
  const said = short(receipt.words);
  if (receipt.state === "kept") {
    const label = el("span", { class: "kept-label" }, `· ${receipt.label} `);
    return [el("small", {}, `${say("receipt.kept", { time: timeWords(receipt.ms) })} `, label), el("b", {}, said)];
  }
  return [el("b", {}, say("receipt.not_kept_named", { words: said || receipt.label })), " ", el("small", {}, receipt.because ?? "")];
}

/** Long text is told by its beginning here; the field holds it whole. */
function short(/** @type {string} */ text) {
  const letters = [...text];
  return letters.length > LETTERS ? `${letters.slice(0, LETTERS).join("")} …` : text;
}
