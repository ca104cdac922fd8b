/** @import { Bedside } from "../types-form.js" */
import { el, fill, the } from "../form/dom.js";
import { elapsedWords } from "../form/elapsed.js";
import { say } from "../form/say.js";
import { settingOf } from "../form/today.js";
import { momentWords } from "../form/words.js";
import { exactMoment } from "../log/clock.js";
import { lead } from "../live/lead.js";
import { isRehearsal } from "./rehearsal.js";
import { identityHere } from "./tablet-identity.js";
import { depthCell, marginCell, outputCell, thresholdCell } from "./tablet-far-cells.js";
import { lockKey } from "./tablet-lock.js";
import { openTestAnywhere } from "./tablet-numbers.js";
import { caseAddress, farAddress } from "./tablet-route.js";
import { wireName } from "./tablet-wire.js";

/**
 * Draw a case as it is read from across the room: four numbers, the pattern, which case,
 * the clock. No name is on it: who passes by reads it too. Without a case it is blank.
 * @param {Bedside} bed
 * @param {boolean} isHere whether this tablet holds anything of the case
 */
export function drawFar(bed, isHere) {
  const at = the("#far");
  document.title = `${say("far.title")} · Wiremark`;
  at.classList.toggle("far-blank", !isHere);
  if (!isHere) return fill(at, el("p", { class: "spoken" }, say("far.blank")), el("a", { class: "key", href: "#/", "data-act": "far-start" }, say("far.start")));
  const { today } = settingOf(bed);
  fill(at, head(bed, today), el("section", { class: "far-numbers", "aria-label": say("far.numbers") }, depthCell(bed, today), outputCell(bed), thresholdCell(bed), marginCell(bed)));
}

/** @param {Bedside} bed @param {string} today */
function head(bed, today) {
  const { place, placeName } = identityHere(bed, bed.now, bed.record);
  const time = momentWords(exactMoment(bed.clock(), bed.store.zone()), today);
  const wire = bed.now.wires.length > 1 ? bed.now.wires.find(({ id }) => id === bed.wire) : null;
  return el(
    "header",
    { class: "far-head" },
    el("div", { class: "place" }, el("small", {}, placeName), place),
    el("p", { class: "far-who" }, el("b", {}, isRehearsal() ? say("rehearsal.word") : initials(bed) || say("far.nameless")), wire ? el("small", {}, wireName(bed, wire)) : null),
    el("div", { class: "far-test", role: "status" }, ...testSettings(bed)),
    el("p", { class: "far-clock" }, el("time", { "aria-label": say("far.clock") }, time), el("small", {}, lastEntry(bed))),
    el(
      "nav",
      { class: "far-keys" },
      el("a", { class: "key", href: farAddress(bed.record, bed.wire), target: "_blank", rel: "noopener", "data-act": "far-window" }, say("far.own_window")),
      el("a", { class: "key", href: caseAddress(bed.record, "advance", { wire: bed.wire }), "data-act": "far-back" }, say("far.back")),
      lockKey(),
    ),
  );
}

/** The first letters of the names, in the order they are said. @param {Bedside} bed */
function initials(bed) {
  const told = ["patient.given_name", "patient.family_name"].map((path) => bed.now.answer(path));
  const names = told.flatMap(({ state, words }) => (state === "answered" ? words.trim().split(/[\s-]+/).filter(Boolean) : []));
  // With points: letters alone may read as an illness.
  return names.map((name) => `${[...name][0]?.toLocaleUpperCase() ?? ""}.`).join(" ");
}

/** @param {Bedside} bed @returns {(Node | null)[]} */
function testSettings(bed) {
  const open = openTestAnywhere(bed);
  if (!open) return [];
  const { test, elsewhere } = open;
  const said = [elsewhere ? wireName(bed, elsewhere) : "", test.setting, elapsedWords(test.seconds ?? 0)].filter(Boolean).join(" · ");
  const weight = test.is_late ? "look_now" : "look_again";
  return [el("p", { class: "far-banner", "data-weight": weight }, lead(weight), el("b", {}, say("stand.test_settings")), el("span", {}, said))];
}

/** It shows what was told, and does not watch: so it says when that was. @param {Bedside} bed */
function lastEntry(bed) {
  const last = Math.max(0, ...Object.values(bed.now.fold.entries).map((entry) => entry.time_ms));
  const seconds = Math.floor((bed.clock() - last) / 1000);
  return seconds < 20 ? say("far.last_now") : say("far.last_entry", { age: elapsedWords(seconds) });
}

/**
 * Return the key to the far view: it stands on every part that is read from afar.
 * @param {Bedside} bed
 */
export function farKey(bed) {
  return el("a", { class: "key far-key", href: farAddress(bed.record, bed.wire), "data-act": "far" }, say("far.open"));
}
