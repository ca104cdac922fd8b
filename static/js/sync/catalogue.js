/** @import { Catalogue } from "../types.js" */
import { readJson } from "./exchange.js";

/**
 * Load every field, choice, limit and word; a file of the shell, there without network.
 * @returns {Promise<Catalogue>}
 * @throws {Error} when the shell is incomplete
 */
export function loadCatalogue() {
  return readJson("/catalogue.json");
}
