/** @import { Base } from "../types.js" */
/** @import { Closed } from "../log/data-key.js" */
import { the } from "../form/dom.js";
import { say } from "../form/say.js";
import { readMeta } from "../log/meta.js";
import { keyFromServer } from "../log/server-way.js";
import { fits } from "../log/wraps.js";
import { holdKey } from "../sw-vault.js";
import { SignInProblem, signInToUnlock } from "../sync/token.js";
import { problemAt } from "./lock-form.js";

/**
 * Unlock by signing in at the server, which gives the tablet's data key back; without the
 * network it is not to be had.
 * @param {Base} base
 * @param {Closed} closed
 * @param {Promise<boolean>} worker resolves once one is there to hold a key
 * @param {() => void} opened
 */
export function watchByServer(base, { tablet, server }, worker, opened) {
  const login = /** @type {HTMLInputElement} */ (the("#login"));
  const password = /** @type {HTMLInputElement} */ (the("#password"));
  const showProblem = problemAt("#server-problem", [login, password]);
  for (const way of document.querySelectorAll("[data-way='server']")) /** @type {HTMLElement} */ (way).hidden = !server;

  async function tryNow() {
    if (!server) return;
    showProblem(say("lock.working"));
    // Whatever comes of it, it does not wait here for somebody else's tap.
    const typed = password.value;
    password.value = "";
    const token = (await readMeta(base, "enrolment"))?.token ?? null;
    const { person, data_key } = await signInToUnlock(token, login.value.trim(), typed, server.wrap);
    const key = await keyFromServer(data_key);
    if (!key || !(await fits(key, tablet))) return showProblem(say("lock.server_cannot"));
    if (!(await worker) || !(await holdKey(key, { person: person.id, name: person.name, role: person.role }))) return showProblem(say("lock.no_worker"));
    opened();
  }

  the("#by-server").addEventListener("submit", (event) => {
    event.preventDefault();
    tryNow().catch((error) => {
      showProblem(say(error instanceof SignInProblem ? error.say : "sign_in.failed"));
      if (!(error instanceof SignInProblem)) throw error;
    });
  });
}
