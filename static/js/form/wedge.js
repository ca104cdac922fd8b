/** A scanner types: digits faster than any hand, then Enter. It is told from a hand here. */

/** Between two keys of a scanner; a hand needs twice as long. */
const GAP_MS = 50;
/** Shorter is no number of a wristband. */
const LEAST_SIGNS = 5;

/**
 * @typedef {object} Burst Keys that came too fast for a hand.
 * @property {string} text
 * @property {number} at_ms when the last one came
 * @property {Typing | null} typing the box they went into, as it was before
 *
 * @typedef {{box: HTMLInputElement | HTMLTextAreaElement, value: string, from: number | null, to: number | null}} Typing
 */

/**
 * Listen for scans wherever the focus is, and nowhere. What a scan typed into a field
 * before it was known to be one is taken out again; its Enter taps no key.
 * @param {HTMLElement} root
 * @param {(text: string) => void} onScan
 */
export function listenForScans(root, onScan) {
  /** @type {Burst | null} */
  let burst = null;
  let ended_ms = -GAP_MS;

  /** @param {KeyboardEvent} event */
  function heard(event) {
    const now_ms = event.timeStamp;
    if (event.key === "Shift" || event.isComposing) return;
    if (isCommand(event)) return commanded(event);
    const before = burst && !event.repeat && now_ms - burst.at_ms <= GAP_MS ? burst : null;
    burst = null;
    if (event.key === "Enter" && before && isLong(before)) {
      event.preventDefault();
      event.stopImmediatePropagation();
      ended_ms = now_ms;
      takeOut(before.typing);
      return onScan(before.text);
    }
    if ([...event.key].length !== 1) return;
    burst = { text: (before?.text ?? "") + event.key, at_ms: now_ms, typing: before ? before.typing : typingIn(event.target) };
    // On a key, a choice or a list it would tap or choose.
    if (before && !burst.typing) event.preventDefault();
  }

  /**
   * A line feed after the Enter, or a sign between fields, is part of the scan.
   * @param {KeyboardEvent} event
   */
  function commanded(event) {
    const isPart = event.timeStamp - ended_ms <= GAP_MS || (burst !== null && isLong(burst) && event.timeStamp - burst.at_ms <= GAP_MS);
    if (isPart) event.preventDefault();
    else burst = null;
  }

  root.addEventListener("keydown", heard, { capture: true });
}

/** @param {Burst} burst */
function isLong(burst) {
  return [...burst.text].length >= LEAST_SIGNS;
}

/** @param {KeyboardEvent} event */
function isCommand({ ctrlKey, altKey, metaKey }) {
  return ctrlKey || altKey || metaKey;
}

/** @param {EventTarget | null} target @returns {Typing | null} */
function typingIn(target) {
  const isText = target instanceof HTMLTextAreaElement || (target instanceof HTMLInputElement && target.type === "text");
  if (!isText) return null;
  return { box: target, value: target.value, from: target.selectionStart, to: target.selectionEnd };
}

/** @param {Typing | null} typing */
function takeOut(typing) {
  if (!typing) return;
  typing.box.value = typing.value;
  typing.box.setSelectionRange(typing.from, typing.to);
  typing.box.dispatchEvent(new Event("input", { bubbles: true }));
}
