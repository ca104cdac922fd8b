/** @import { Bedside } from "../types-form.js" */

/**
 * @typedef {object} Drafts
 * @property {(path: string, text: string) => void} note somebody typed
 * @property {(path: string) => void} forget an entry is about to take its place
 * @property {(path: string) => void} renew that entry is kept, and cleared the draft: what was typed meanwhile is kept again
 * @property {(path: string) => void} drop
 * @property {() => void} hurry the page may end in this very task
 * @property {() => Promise<void>} flush
 */

/**
 * @typedef {object} Draft The latest text of one field.
 * @property {{isOver: boolean}} life over once the text became an entry, or was dropped
 * @property {Promise<void>} sealing
 * @property {(() => Promise<void>) | null} write null until it is sealed
 * @property {boolean} isWritten
 */

/**
 * Keep unfinished text as one draft a field, from the first letter on. Each letter is
 * sealed at once; one write runs at a time, and the latest text follows when it ends, so
 * that a kill loses no more than what was typed during one write.
 * @param {Pick<Bedside, "store" | "record">} bed
 * @returns {Drafts}
 */
export function openDrafts(bed) {
  /** @type {Map<string, Draft>} */
  const noted = new Map();
  /** @type {Promise<void> | null} */
  let flight = null;
  const nameOf = (/** @type {string} */ path) => `${bed.record} ${path}`;
  const waiting = () => [...noted.values()].filter((draft) => !draft.isWritten);

  /** @param {Draft} draft */
  function write(draft) {
    draft.isWritten = true;
    // A store that fails says so at the entry; the letters stay in the field.
    return draft.write?.().catch(() => {}) ?? Promise.resolve();
  }

  function pump() {
    const next = flight ? undefined : waiting().find((draft) => draft.write);
    if (!next) return;
    flight = write(next).finally(() => {
      flight = null;
      pump();
    });
  }

  /** @param {string} path @param {string} text */
  function note(path, text) {
    const name = nameOf(path);
    const life = noted.get(name)?.life ?? { isOver: false };
    /** @type {Draft} */
    const draft = { life, sealing: Promise.resolve(), write: null, isWritten: false };
    noted.set(name, draft);
    draft.sealing = bed.store.sealDraft(bed.record, path, text, () => !life.isOver).then(
      (keep) => {
        draft.write = keep;
        pump();
      },
      () => void (draft.isWritten = true),
    );
  }

  /** @param {string} path */
  function forget(path) {
    const draft = noted.get(nameOf(path));
    if (draft) draft.life.isOver = true;
    noted.delete(nameOf(path));
  }

  return {
    note,
    forget,
    renew(path) {
      const draft = noted.get(nameOf(path));
      if (draft) draft.isWritten = false;
      pump();
    },
    drop(path) {
      forget(path);
      void bed.store.dropDraft(bed.record, path).catch(() => {});
    },
    hurry: () => waiting().forEach((draft) => draft.write && void write(draft)),
    async flush() {
      while (waiting().length) await Promise.all([flight, ...waiting().map((draft) => draft.sealing)]);
      await flight;
    },
  };
}
