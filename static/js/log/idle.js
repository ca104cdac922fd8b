/** ms that a piece of work may take once the page has nothing else to do, where nobody tells how long it has */
const PIECE_MS = 8;

/**
 * Run work that nobody waits for once the page has nothing else to do.
 * @param {(isTime: () => boolean) => void} work isTime: a further piece may be begun at once
 */
export function whenIdle(work) {
  if (typeof requestIdleCallback === "function") requestIdleCallback((deadline) => work(() => deadline.timeRemaining() > 0));
  else {
    setTimeout(() => {
      const over = performance.now() + PIECE_MS;
      work(() => performance.now() < over);
    });
  }
}

/** Resolves once the page has nothing else to do. @returns {Promise<void>} */
export function idle() {
  return new Promise((resolve) => whenIdle(() => resolve()));
}

/**
 * Do pieces of work one after the other, each only while the page has nothing else to do: a
 * tap waits for one of them, never for all.
 * @param {(() => void)[]} pieces
 * @param {() => boolean} isWanted false: the rest is left
 * @returns {Promise<void>} fails with the piece that fails
 */
export function inPieces(pieces, isWanted) {
  return new Promise((resolve, reject) => {
    let next = 0;
    const turn = (/** @type {() => boolean} */ isTime) => {
      try {
        do pieces[next++]?.();
        while (next < pieces.length && isTime() && isWanted());
      } catch (problem) {
        return reject(problem);
      }
      if (next < pieces.length && isWanted()) whenIdle(turn);
      else resolve();
    };
    whenIdle(turn);
  });
}
