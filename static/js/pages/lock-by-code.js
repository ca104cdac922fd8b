/** @import { Base } from "../types.js" */
/** @import { Codes } from "../sw-codes.js" */
import { el, fill, key, the } from "../form/dom.js";
import { local } from "../form/instants.js";
import { say } from "../form/say.js";
import { momentWords } from "../form/words.js";
import { begunByCode } from "../log/by-code.js";
import { browserZone, exactMoment, stamp } from "../log/clock.js";
import { readMeta } from "../log/meta.js";
import { madeMs } from "../log/uuid.js";
import { beginByCode, enterByCode, lookAtCodes, tryCode } from "../sw-codes.js";
import { problemAt } from "./lock-form.js";
import { goFromLock } from "./lock-way.js";
import { START_NOW, caseAddress, routeOf } from "./tablet-route.js";

const HOUR_MS = 3_600_000;

/**
 * The ways into one case without unlocking: a new one at once, one whose four digits are
 * known, and one that can be written to but no more be read. Nothing else opens by them.
 * @param {Base} base
 * @param {Promise<boolean>} worker resolves once one is there to hold a key; false: none comes
 */
export async function watchByCode(base, worker) {
  const code = /** @type {HTMLInputElement} */ (the("#code"));
  const showProblem = problemAt("#code-problem", [code]);
  const showNow = problemAt("#now-problem", []);

  /** @param {() => Promise<string | null>} way to the address to go to */
  const enter = async (way) => {
    showNow(say("lock.working"));
    const isEnrolled = Boolean((await readMeta(base, "enrolment"))?.server_key);
    if (!isEnrolled) return showNow(say("store.no_server"));
    if (!(await worker) || !(await enterByCode())) return showNow(say("lock.no_worker"));
    const address = await way();
    if (address) goFromLock(address);
    else showNow(say("lock.no_worker"));
  };
  the("#start-now").addEventListener("click", () => void enter(async () => START_NOW));
  the("#by-code").addEventListener("submit", (event) => {
    event.preventDefault();
    void open();
  });

  async function open() {
    const digits = code.value.trim();
    if (!/^\d{4}$/.test(digits)) return showProblem(say("by_code.digits"));
    code.value = "";
    const before = await lookAtCodes();
    const { record, left } = await tryCode(digits);
    if (record) return goFromLock(routeOf(location.hash).record === record ? location.hash : caseAddress(record, "patient"));
    const now = await lookAtCodes();
    draw(now);
    await drawLost(now);
    if (!before.closed) showProblem(say("by_code.slept"));
    else if (left > 0) showProblem(say(left === 1 ? "by_code.left_one" : "by_code.left", { count: left }));
  }

  /** @param {Codes} codes */
  function draw({ closed, left }) {
    the("#by-code").hidden = !closed || left < 1;
    showProblem(closed && left < 1 ? say("by_code.gone") : "");
  }

  /** Those that no code opens. @param {Codes} codes */
  async function drawLost(codes) {
    const lost = (await begunByCode(base)).filter(({ record, last_ms }) => !codes.records.includes(record) && Date.now() - last_ms < runningMs());
    const zone = (await readMeta(base, "enrolment"))?.zone ?? browserZone();
    fill(the("#lost"), ...lost.map(({ record }) => el("li", {}, againKey(record, zone, () => void enter(() => again(record))))));
  }

  const codes = await lookAtCodes();
  draw(codes);
  await drawLost(codes);
}

/** @param {string} record @param {string} zone @param {() => void} onTap */
function againKey(record, zone, onTap) {
  const time = momentWords(exactMoment(madeMs(record), zone), local(stamp(Date.now(), zone)).day);
  const made = key("", onTap, { class: "key lock-now", "data-act": "go-on", "data-record": record });
  made.append(el("b", {}, say("by_code.again", { time })), el("small", {}, say("by_code.again_more")));
  return made;
}

/** @param {string} record @returns {Promise<string | null>} */
async function again(record) {
  return (await beginByCode(record)) && caseAddress(record, "patient");
}

/** @returns {number} so long after its last entry a case runs, by the site's setting */
function runningMs() {
  return Number(the("#lock").dataset.runningCaseH) * HOUR_MS;
}
