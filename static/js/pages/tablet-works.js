/**
 * Count what is being written: a page is left only when nothing of it is on its way,
 * for what arrives after that would be written to another case.
 * @returns {{during: <T>(work: Promise<T>) => Promise<T>, settled: () => Promise<void>}}
 */
export function openWorks() {
  /** @type {Set<Promise<unknown>>} */
  const running = new Set();
  return {
    during(work) {
      running.add(work);
      const done = () => running.delete(work);
      work.then(done, done);
      return work;
    },
    async settled() {
      while (running.size) await Promise.allSettled([...running]);
    },
  };
}
