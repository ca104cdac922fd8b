/**
 * Remember what a view shows, so that what says the same is not drawn again.
 * @returns {{isShown: (said: unknown[], isSettled: boolean) => boolean, forget: () => void}}
 *   isShown: everything it depends on is the same object as when it was last drawn; not
 *   settled: somebody's hand is in it, and it is drawn now and the next time
 */
export function openShown() {
  /** @type {unknown[] | null} */
  let last = null;
  return {
    isShown(said, isSettled) {
      const isSame = isSettled && last?.length === said.length && said.every((one, n) => one === last?.[n]);
      last = isSettled ? said : null;
      return isSame;
    },
    forget() {
      last = null;
    },
  };
}
