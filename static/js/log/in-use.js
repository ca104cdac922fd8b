/**
 * Hold a case as open on this page, in place of the one held before. The hold ends with
 * the page, however that ends.
 * @param {string} tablet name of its log's lock
 * @returns {(record: string) => void} "" holds none
 */
export function openHolder(tablet) {
  let [held, letGo] = ["", () => {}];
  return (record) => {
    if (record === held) return;
    letGo();
    [held, letGo] = [record, () => {}];
    if (!record) return;
    const until = new Promise((/** @type {(value?: unknown) => void} */ resolve) => (letGo = resolve));
    void navigator.locks.request(nameOf(tablet, record), { mode: "shared" }, () => until);
  };
}

/**
 * Return the cases that are open on any page of this tablet.
 * @param {string} tablet
 * @returns {Promise<Set<string>>}
 */
export async function casesInUse(tablet) {
  const start = nameOf(tablet, "");
  const { held = [], pending = [] } = await navigator.locks.query();
  const names = [...held, ...pending].map(({ name = "" }) => name);
  return new Set(names.filter((name) => name.startsWith(start)).map((name) => name.slice(start.length)));
}

/** @param {string} tablet @param {string} record */
function nameOf(tablet, record) {
  return `${tablet} open ${record}`;
}
