/** @import { Bedside } from "../types-form.js" */
import { the } from "../form/dom.js";
import { say } from "../form/say.js";
import { keepStanding } from "./tablet-standing.js";
import { showWho } from "./tablet-who.js";

/**
 * Ask who read the generator, since settings carry a person's name. Without one nothing
 * goes on: what was read stays in hand, and as a draft, until somebody is named.
 * @param {Bedside} bed
 * @param {() => void} then keeps what was read
 */
export function askReader(bed, then) {
  const named = (/** @type {import("../types-form.js").Standing} */ standing) => {
    bed.standing = standing;
    void keepStanding(bed).then(bed.refresh);
    if ((standing.author ?? standing.at).name) then();
  };
  showWho(the("#who-sheet"), bed, named, say("who.read_settings"));
}
