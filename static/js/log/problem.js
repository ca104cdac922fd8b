/** Something cannot be kept, and why; `say` is a key into the user's words. */
export class StoreProblem extends Error {
  /**
   * @param {"absent" | "blocked" | "full" | "failed" | "too_large" | "locked" | "no_server"} code
   * @param {unknown} [cause]
   */
  constructor(code, cause) {
    super(`the tablet's store: ${code}`, { cause });
    this.name = "StoreProblem";
    this.code = code;
    this.say = `store.${code}`;
  }
}

/**
 * Turn what a database threw into a problem with a name; other errors stay as they are.
 * @param {unknown} error null: a transaction ended without a cause
 * @returns {unknown}
 */
export function asProblem(error) {
  if (error === null) return new StoreProblem("failed");
  if (!(error instanceof DOMException)) return error;
  return new StoreProblem(error.name === "QuotaExceededError" ? "full" : "failed", error);
}
