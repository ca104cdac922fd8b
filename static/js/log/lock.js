/**
 * Run `work` while no other page of this tablet holds the lock of this name.
 * @template T
 * @param {string} name
 * @param {() => Promise<T>} work
 * @returns {Promise<T>}
 */
export async function underLock(name, work) {
  return await navigator.locks.request(name, work);
}

/**
 * Run `work` unless another page of this tablet holds the lock.
 * @param {string} name
 * @param {() => Promise<void>} work
 * @returns {Promise<boolean>} false: another page holds it, and nothing ran
 */
export async function ifFree(name, work) {
  return await navigator.locks.request(name, { ifAvailable: true }, async (lock) => {
    if (lock) await work();
    return lock !== null;
  });
}
