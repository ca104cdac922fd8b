/** @import { Bedside } from "../types-form.js" */

/**
 * @typedef {object} Drafts
 * @property {(path: string, text: string) => void} note somebody typed
 * @property {(path: string) => void} forget an entry is about to take its place
 * @property {(path: string, text: string) => void} putBack that entry was not kept: its words are a draft again, until it is
 * @property {(record: string, path: string) => void} cleared an entry is kept, at once or tried again later, and cleared
 *   the draft: what was typed meanwhile is kept again
 * @property {(path: string) => void} drop
 * @property {() => void} hurry the page may end in this very task
 * @property {() => Promise<void>} flush write what waits; what the store did not take is given to it once more
 * @property {() => boolean} isFailing what was typed last in some field could not be kept
 */

/**
 * @typedef {object} Draft The latest text of one field.
 * @property {{isOver: boolean}} life over once the text became an entry, or was dropped
 * @property {() => Promise<() => Promise<void>>} seal
 * @property {Promise<void>} sealing
 * @property {(() => Promise<void>) | null} write null until it is sealed
 * @property {boolean} isWritten
 * @property {boolean} [isFailed] the store did not take it
 * @property {boolean} [isPutBack] nothing was typed since
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
  const failed = () => [...noted.values()].filter((draft) => draft.isFailed);

  /** @param {Draft} draft */
  function write(draft) {
    Object.assign(draft, { isWritten: true, isFailed: false });
    // A store that fails says so at the entry; the letters stay in the field.
    return draft.write?.().catch(() => void (draft.isFailed = true)) ?? Promise.resolve();
  }

  function pump() {
    const next = flight ? undefined : waiting().find((draft) => draft.write);
    if (!next) return;
    flight = write(next).finally(() => {
      flight = null;
      pump();
    });
  }

  /** @param {string} path @param {string} text @param {boolean} [isPutBack] */
  function note(path, text, isPutBack = false) {
    const { record } = bed;
    const name = nameOf(path);
    const life = noted.get(name)?.life ?? { isOver: false };
    const seal = () => bed.store.sealDraft(record, path, text, () => !life.isOver);
    /** @type {Draft} */
    const draft = { life, seal, sealing: Promise.resolve(), write: null, isWritten: false, isPutBack };
    noted.set(name, draft);
    begin(draft);
  }

  /** @param {Draft} draft */
  function begin(draft) {
    Object.assign(draft, { isWritten: false, isFailed: false });
    if (draft.write) return;
    draft.sealing = draft.seal().then(
      (keep) => {
        draft.write = keep;
        pump();
      },
      () => void Object.assign(draft, { isWritten: true, isFailed: true }),
    );
  }

  /** @param {string} name */
  function end(name) {
    const draft = noted.get(name);
    if (draft) draft.life.isOver = true;
    noted.delete(name);
  }
  const forget = (/** @type {string} */ path) => end(nameOf(path));

  return {
    note: (path, text) => note(path, text),
    putBack: (path, text) => note(path, text, true),
    forget,
    cleared(record, path) {
      const draft = noted.get(`${record} ${path}`);
      // Nothing was typed since: what it holds is that very entry.
      if (draft?.isPutBack) return end(`${record} ${path}`);
      // One that is being sealed is written by that.
      if (draft?.write || draft?.isFailed) begin(draft);
      pump();
    },
    drop(path) {
      forget(path);
      void bed.store.dropDraft(bed.record, path).catch(() => {});
    },
    hurry: () => [...waiting(), ...failed()].forEach((draft) => draft.write && void write(draft)),
    async flush() {
      // Room may have come since; a store that fails still, fails once more.
      failed().forEach(begin);
      pump();
      while (waiting().length) await Promise.all([flight, ...waiting().map((draft) => draft.sealing)]);
      await flight;
    },
    isFailing: () => failed().length > 0,
  };
}
