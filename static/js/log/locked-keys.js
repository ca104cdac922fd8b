/** @import { Base, Keys } from "../types.js" */
import { keyRow } from "./key-rows.js";
import { StoreProblem } from "./problem.js";

/**
 * Return what a locked tablet knows of its keys: which of them are wrapped for the server
 * already. It opens none and makes none.
 * @param {Base} base
 * @returns {Keys}
 */
export function lockedKeys(base) {
  return {
    isLocked: true,
    isByCode: false,
    begin: () => Promise.reject(new StoreProblem("locked")),
    codeOf: () => null,
    isHere: () => false,
    open: () => [],
    isShut: async () => true,
    sealer: () => Promise.reject(new StoreProblem("locked")),
    at: () => null,
    ready: () => null,
    warm: async () => {},
    opener: async () => null,
    forget: () => {},
    wrapped: async (id, server) => {
      const row = await keyRow(base, id);
      // Nobody here can ever wrap it anew: the server may still know what it is wrapped for.
      const isLast = row !== null && !row.wrap_tablet;
      return row?.wrap_server && (row.wrap_server.server_key === server.id || isLast) ? row : null;
    },
  };
}
