/** @import { JsonObject, Store } from "../types.js" */

/**
 * Return what finds the limits that a record is read by: those it began with. A limit that
 * nobody had then is this form's; so are all of them until a server tells others.
 * @param {Store} store
 * @param {JsonObject} form limits of this form, as in catalogue.json
 * @returns {(record: string) => Promise<JsonObject>} the same object for the same limits
 */
export function limitsFinder(store, form) {
  /** @type {Map<string, JsonObject>} */
  const made = new Map();
  return async (record) => {
    const kept = await store.limitsOf(record);
    if (!kept || kept.digest === form.digest) return form;
    const name = String(kept.digest);
    const found = made.get(name) ?? { ...form, ...kept, rows: { .../** @type {JsonObject} */ (form.rows), .../** @type {JsonObject} */ (kept.rows) } };
    made.set(name, found);
    return found;
  };
}
