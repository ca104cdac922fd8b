/** @import { Bedside } from "../types-form.js" */

const DRAFT = "who#typing";

/**
 * Keep the names being typed on a sheet as a draft, and put back those that were there
 * when the power went. They lie with the case, on Start with the latest one; before the
 * first case of a tablet there is nothing to seal them under.
 * @param {Bedside} bed
 * @param {HTMLElement} body
 * @returns {{drop: () => void}}
 */
export function keepNames(bed, body) {
  const record = shelfOf(bed);
  let isTyped = false;
  let isOver = false;
  // One after the other, so that the latest is written last.
  let busy = record.then(async (id) => {
    const text = id ? (await bed.store.drafts(id))[DRAFT] : undefined;
    if (text && !isTyped && body.isConnected) restore(body, JSON.parse(text));
  });
  busy = busy.catch(() => {});
  body.addEventListener("input", ({ isTrusted }) => {
    if (!isTrusted) return;
    isTyped = true;
    const text = JSON.stringify(Object.fromEntries(boxesIn(body)));
    busy = busy.then(async () => {
      const id = await record;
      if (id && !isOver) await bed.store.draft(id, DRAFT, text);
    }).catch(() => {});
  });
  return {
    drop() {
      isOver = true;
      busy = busy.then(async () => {
        const id = await record;
        if (id) await bed.store.dropDraft(id, DRAFT);
      }).catch(() => {});
    },
  };
}

/** @param {Bedside} bed @returns {Promise<string | undefined>} */
async function shelfOf(bed) {
  return bed.record || (await bed.store.latest())?.record;
}

/** @param {HTMLElement} body @param {{[box: string]: string}} said */
function restore(body, said) {
  for (const box of body.querySelectorAll("input")) {
    box.value = said[nameOf(box)] ?? box.value;
    // The keys of known people follow the text.
    box.dispatchEvent(new Event("input", { bubbles: true }));
  }
}

/** @param {HTMLElement} body @returns {[string, string][]} */
function boxesIn(body) {
  return [...body.querySelectorAll("input")].map((box) => [nameOf(box), box.value]);
}

/** @param {HTMLInputElement} box whose name, or whose role */
function nameOf({ dataset }) {
  return `${dataset.who ?? ""}:${dataset.whoRole ?? ""}`;
}
