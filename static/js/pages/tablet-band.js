/** @import { Json } from "../types.js" */
/** @import { Bedside, CaseRead, Receipt } from "../types-form.js" */
import { apart } from "../form/apart.js";
import { bandNumber, hasNumber, isNoBand, judgeBand } from "../form/band.js";
import { readCase } from "../form/case.js";
import { the } from "../form/dom.js";
import { say } from "../form/say.js";
import { settingOf } from "../form/today.js";
import { listenForScans } from "../form/wedge.js";
import { words } from "../form/words.js";
import { exactMoment } from "../log/clock.js";
import { bandQuestion } from "./tablet-band-ask.js";
import { begin } from "./tablet-begin.js";
import { caseAddress, routeOf } from "./tablet-route.js";
import { holdPage } from "./tablet-turn.js";

const [NUMBER, READ, HOW, AGAIN] = ["patient.record_number", "patient.wristband_read", "patient.wristband_how", "patient.wristband_reread"];
const TICKED = "consent.time_out_identifiers";

/** @typedef {{record: string, now: CaseRead}} OtherCase */

/**
 * Read scanned wristbands from now on: one fills an empty number, stamps a number that
 * is the same, and asks where it is another, before anything is changed.
 * @param {Bedside} bed
 * @param {(receipt: Receipt) => void} tell
 */
export function readBands(bed, tell) {
  const question = bandQuestion();
  const patterns = /** @type {string[]} */ (bed.policy.no_bands ?? []);

  /** @param {string} text */
  async function read(text) {
    question.close();
    if (isNoBand(text, patterns)) return refuse(bed, text, tell);
    const number = bandNumber(text);
    await arrived(bed);
    const other = await caseWith(bed, number);
    if (!bed.record) {
      if (other) return open(other);
      return question.ask({ title: say("band.new"), number, here: null, other, keys: { begin: () => void bed.during(beginWith(bed, number)) } });
    }
    const verdict = judgeBand(bed.now, number);
    if (verdict === "same") return bed.during(stampAgain(bed));
    if (verdict === "first" && !other) return bed.during(fill(bed, number));
    const title = say(verdict === "first" ? "band.elsewhere" : "band.different");
    question.ask({
      title,
      number,
      here: bed.now,
      other,
      keys: {
        another: () => void bed.during(another(bed, number, other)),
        correct: () => void bed.during(correct(bed, number)),
      },
    });
  }

  listenForScans(document.documentElement, (text) => void read(text));
}

/**
 * On the way from one page to another the case is not yet the one that is seen.
 * @param {Bedside} bed
 */
async function arrived(bed) {
  while (bed.record !== routeOf(location.hash).record) await new Promise((next) => requestAnimationFrame(next));
}

/** @param {Bedside} bed @param {string} text @param {(receipt: Receipt) => void} tell */
function refuse(bed, text, tell) {
  const because = say("band.no_band");
  if (!bed.record) the("#start-alert").textContent = `${apart(text)}: ${because}`;
  tell({ state: "not_kept", label: say("band.scanned"), words: text, ms: 0, because });
}

/**
 * @param {Bedside} bed
 * @param {string} number
 * @returns {Promise<OtherCase | null>} another case on this tablet with this number
 */
async function caseWith(bed, number) {
  const rows = await bed.store.records();
  const reads = rows.map((row) => ({ record: row.record, now: readCase(row.fold, bed.index) }));
  return reads.find(({ record, now }) => record !== bed.record && hasNumber(now, number)) ?? null;
}

/** @param {OtherCase} other */
function open({ record }) {
  location.hash = caseAddress(record, "patient");
}

/**
 * @param {Bedside} bed
 * @param {string} path
 * @param {Json} value
 * @param {boolean} [isNew] the page may still show the case before: nothing of it counts as seen
 */
async function set(bed, path, value, isNew = false) {
  const field = bed.index.at(path)?.field;
  const said = { label: field?.label ?? path, words: field ? words(field, value, settingOf(bed).today) : "" };
  return bed.keep({ path, op: "set", value, seen: isNew ? [] : bed.now.answer(path).entries }, said);
}

/** @param {Bedside} bed @param {boolean} [isNew] */
async function stampFirst(bed, isNew) {
  await set(bed, READ, exactMoment(bed.clock(), bed.store.zone()), isNew);
  await set(bed, HOW, "scan", isNew);
}

/** @param {Bedside} bed @param {"same" | "different"} result */
async function addAgain(bed, result) {
  const value = { result, how: "scan", moment: exactMoment(bed.clock(), bed.store.zone()) };
  const field = bed.index.at(AGAIN)?.field;
  await bed.keep({ path: AGAIN, op: "add", value }, { label: field?.label ?? AGAIN, words: say("band.read") });
}

/** @param {Bedside} bed @param {string} number @param {boolean} [isNew] */
async function fill(bed, number, isNew) {
  if (await set(bed, NUMBER, number, isNew)) await stampFirst(bed, isNew);
}

/**
 * One stamp; at the time-out the band is one of the two identifiers.
 * @param {Bedside} bed
 */
async function stampAgain(bed) {
  const isFirst = !bed.now.answer(READ).heads.length;
  await (isFirst ? stampFirst(bed) : addAgain(bed, "same"));
  const ticked = bed.now.answer(TICKED);
  if (routeOf(location.hash).part !== "consent" || !["answered", "not_asked"].includes(ticked.state)) return;
  const told = Array.isArray(ticked.value) ? ticked.value : [];
  if (!told.includes("wristband")) await set(bed, TICKED, [...told, "wristband"]);
}

/** @param {Bedside} bed @param {string} number */
async function correct(bed, number) {
  await addAgain(bed, "different");
  await fill(bed, number);
}

/** @param {Bedside} bed @param {string} number @param {OtherCase | null} other */
async function another(bed, number, other) {
  holdPage();
  await addAgain(bed, "different");
  if (other) open(other);
  else await beginWith(bed, number);
}

/** @param {Bedside} bed @param {string} number */
async function beginWith(bed, number) {
  await begin(bed, "wristband", "", () => fill(bed, number, true));
}
