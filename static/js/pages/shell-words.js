/** @import { Readiness } from "../types.js" */
import { say } from "../form/say.js";

/**
 * Say whether this tablet opens without network. Before its worker has told what belongs to
 * it there is nothing to count.
 * @param {Pick<Readiness, "ready" | "have" | "want">} readiness
 * @returns {string}
 */
export function shellWords({ ready, have, want }) {
  if (ready) return say("shell.ready");
  return want ? say("shell.not_ready", { have, want }) : say("shell.not_yet");
}
