/** @import { Fold } from "../types.js" */
/** @import { Found, Told } from "./types-found.js" */
/** @import { Policy } from "./types.js" */
import { aroundRemarks } from "./around_remarks.js";
import { balloonRemarks } from "./balloon_remarks.js";
import { captureRemarks } from "./capture_remarks.js";
import { complicationsRemarks } from "./complications_remarks.js";
import { depthRemarks } from "./depth_remarks.js";
import { driftRemarks } from "./drift_remarks.js";
import { drugsRemarks } from "./drugs_remarks.js";
import { heavierFound } from "./found.js";
import { handingRemarks } from "./handing_remarks.js";
import { outcomeRemarks } from "./outcome_remarks.js";
import { kitRemarks } from "./kit_remarks.js";
import { patternRemarks } from "./pattern_remarks.js";
import { labsRemarks } from "./labs_remarks.js";
import { placeRemarks } from "./place_remarks.js";
import { rateRemarks } from "./rate_remarks.js";
import { sensingArea } from "./sensing_area.js";
import { settingsRemarks } from "./settings_remarks.js";
import { skinPacingRemarks } from "./skin_pacing_remarks.js";
import { toldOf } from "./told.js";

/**
 * In the order of the parts: of two equally heavy, the earlier is said first.
 * @type {{[area: string]: (told: Told) => Found[]}}
 */
export const AREAS = {
  labs: labsRemarks,
  around: aroundRemarks,
  drugs: drugsRemarks,
  skin_pacing: skinPacingRemarks,
  kit: kitRemarks,
  depth: depthRemarks,
  pattern: patternRemarks,
  balloon: balloonRemarks,
  capture: captureRemarks,
  place: placeRemarks,
  complications: complicationsRemarks,
  sensing: sensingArea,
  settings: settingsRemarks,
  rate: rateRemarks,
  drift: driftRemarks,
  handing: handingRemarks,
  outcome: outcomeRemarks,
};

/**
 * Return every remark on a record, heavier first, each once.
 * @param {Fold} fold
 * @param {Policy} policy as in catalogue.json
 * @param {number | null} [now_ms] null for a record that is read afterwards
 * @returns {Found[]}
 */
export function caseRemarks(fold, policy, now_ms = null) {
  const told = toldOf(fold, policy, now_ms);
  return heavierFound(Object.values(AREAS).flatMap((area) => area(told)));
}
