import { bandsFor } from "../clinical/bands.js";
import { el } from "../form/dom.js";
import { say } from "../form/say.js";
import { depthRuler } from "../live/depth.js";
import { lead } from "../live/lead.js";
import { marginRuler } from "../live/margin.js";
import { stair } from "../live/stair.js";

const STEPS = [["10", "captures"], ["5.0", "captures"], ["2.0", "cannot_tell"], ["1.2", "captures"], ["1.0", "no_capture"], ["1.2", "captures"]];
const BEADS = [18, 27, 34].map((cm) => ({ cm, atHub: true }));

/** The way in by the right neck, as its ruler has it. */
const WAY = { bands: bandsFor("neck", "right", true), limitCm: 45, tickCm: 17 };

/**
 * Draw the rulers and signs that stand beside numbers, in each state.
 * @param {HTMLElement} at
 */
export function drawRulers(at) {
  const [box, words] = [{ width: 164, height: 420 }, say("depth.spoken", { said: "34 cm", count: BEADS.length })];
  const depth = { beads: BEADS, lengthCm: 60, hasRings: true, words };
  const margin = { times: 2.5, floor: 2, goal: 2.5, words: say("capture.margin_spoken", { margin: "2.5 ×" }), note: "2.5 ×" };
  at.append(
    depthRuler({ ...depth, beads: [] }, box),
    depthRuler(depth, box),
    depthRuler({ ...depth, hasRings: false, beads: BEADS.map((bead) => ({ ...bead, atHub: false })) }, box),
    depthRuler({ ...depth, ...WAY, limitWords: say("rope.limit", { cm: "15" }), coil: { cm: 33, words: say("rope.coil", { cm: "15" }) } }, box),
    depthRuler({ ...depth, isAdrift: true }, box),
    depthRuler({ ...depth, lengthCm: 90 }, { width: 60, height: 420 }),
    stair({ readings: STEPS.map(([output = "", result = ""]) => ({ output, result })), threshold: "1.2", low: "1.0", words: say("capture.stair_spoken", { count: STEPS.length, told: "1.2 mA" }) }, { width: 340, height: 150 }),
    marginRuler({ ...margin, isRead: false }, { width: 130, height: 150 }),
    marginRuler({ ...margin, isRead: true }, { width: 130, height: 150 }),
    ...["fits", "look_again", "look_now"].map((weight) => el("span", { class: "remark", "data-weight": weight }, lead(weight))),
  );
}
