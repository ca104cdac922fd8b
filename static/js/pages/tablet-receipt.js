/** @import { Receipt } from "../types-form.js" */
import { el, key } from "../form/dom.js";
import { say } from "../form/say.js";

const KEY_STAYS_MS = 10_000;
const PULSE_MS = 40;
/** Three lines beside the key of a phone; the field holds the whole. */
const LETTERS = 48;

/**
 * Return what shows receipts in the place kept for them. A named strike key stays for
 * 10 s, and no longer than its case. What was not kept stays until it is: beside what is
 * kept after it, and in another case with the name of its own. `isLost`: something stands there
 * that is not kept.
 * @param {HTMLElement} at
 * @param {(ms: number) => string} timeWords
 * @param {() => Promise<void>} [released] a key that is being pressed is not drawn anew; none: nobody presses
 */
export function receipts(at, timeWords, released) {
  let timer = 0;
  let here = "";
  let isStrikeable = false;
  /** @type {Receipt | null} */
  let kept = null;
  /** @type {Receipt | null} shown last, and not kept */
  let latest = null;
  /** @type {Receipt[]} what can be tried again, the oldest first */
  let lost = [];
  const said = el("p", { class: "kept-said", role: "status" });
  const failed = el("p", { class: "kept-said", role: "alert" });
  const place = el("div", { class: "kept-key" });
  at.replaceChildren(said, failed, place);
  failed.hidden = true;

  /** @param {Receipt} receipt */
  function show(receipt) {
    const isKept = receipt.state === "kept";
    // One pulse for kept; a browser allows none before the first tap.
    if (isKept && navigator.userActivation?.hasBeenActive) navigator.vibrate?.(PULSE_MS);
    lost = lost.filter(({ same }) => !same || same !== receipt.same);
    kept = isKept ? receipt : null;
    latest = isKept ? null : receipt;
    if (latest?.onAct) lost.push(latest);
    clearTimeout(timer);
    isStrikeable = isKept;
    if (kept?.onAct) timer = setTimeout(endStrike, KEY_STAYS_MS);
    draw();
  }

  const afterPress = (/** @type {() => void} */ work) => void (released ? released().then(work) : work());
  const draw = () => afterPress(drawNow);

  function drawNow() {
    const bad = latest ?? lost[0];
    if (kept ?? bad) at.dataset.state = kept ? "kept" : "not_kept";
    else delete at.dataset.state;
    said.hidden = !kept && Boolean(bad);
    failed.hidden = !bad;
    said.replaceChildren(...(kept ? keptWords(kept, timeWords) : []));
    // Told once: what still stands is not called out again.
    const now = el("p", {}, ...(bad ? lostWords(bad, here) : []));
    if (failed.innerHTML !== now.innerHTML) failed.replaceChildren(...now.childNodes);
    drawKey();
  }

  function endStrike() {
    isStrikeable = false;
    afterPress(drawKey);
  }

  function drawKey() {
    const shown = kept?.onAct && isStrikeable ? kept : (latest ?? lost[0]);
    const { act, onAct } = shown ?? {};
    place.replaceChildren(...(shown && act && onAct ? [key(act, () => tapped(shown, onAct), { "data-act": shown === kept ? "strike-kept" : "again" })] : []));
  }

  /** @param {Receipt} receipt @param {() => void} onAct */
  function tapped(receipt, onAct) {
    lost = lost.filter((one) => one !== receipt);
    place.replaceChildren();
    onAct();
  }

  /** @param {string} record the case that is open from now on */
  function turn(record) {
    if (record === here) return;
    here = record;
    if (kept?.record !== here) {
      kept = null;
      clearTimeout(timer);
    }
    if (latest?.record !== here) latest = null;
    draw();
  }

  return Object.assign(show, { turn, isLost: () => lost.length > 0 });
}

/** @param {Receipt} receipt @param {(ms: number) => string} timeWords */
function keptWords(receipt, timeWords) {
  const label = el("span", { class: "kept-label" }, `· ${receipt.label} `);
  return [el("small", {}, `${say("receipt.kept", { time: timeWords(receipt.ms) })} `, label), el("b", {}, short(receipt.words))];
}

/** @param {Receipt} receipt @param {string} here the case that is open */
function lostWords({ record, of = "", words, label, because = "" }, here) {
  const named = short(words) || label;
  const told = record === undefined || record === here ? say("receipt.not_kept_named", { words: named }) : say("receipt.not_kept_elsewhere", { words: named, of });
  return [el("b", {}, told), " ", el("small", {}, because)];
}

/** Long text is told by its beginning here; the field holds it whole. */
function short(/** @type {string} */ text) {
  const letters = [...text];
  return letters.length > LETTERS ? `${letters.slice(0, LETTERS).join("")} …` : text;
}
