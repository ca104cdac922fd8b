import { the } from "../form/dom.js";
import { say } from "../form/say.js";

/**
 * Let nothing be tapped on a page that is being left: what it shows is of one case or
 * wire, and the next entry would be written to another.
 */
export function holdPage() {
  the("#case").inert = true;
}

/**
 * Show one of the screens, in the same breath in which it is drawn: what is seen
 * can be used, and nothing is typed into a form that does not listen yet.
 * @param {"#start" | "#case" | "#far"} screen
 */
export function turnTo(screen) {
  the("#start").hidden = screen !== "#start";
  the("#case").hidden = screen !== "#case";
  the("#far").hidden = screen !== "#far";
  // Who it is now waits for its tap.
  the("#case").inert = document.querySelector(".switch") !== null;
  if (screen === "#case") the("#start-alert").textContent = "";
}

/**
 * Go to Start from an address that names no case of this tablet: an empty case would be
 * filled in as if it were the one that was meant.
 */
export function leaveUnknown() {
  the("#start-alert").textContent = say("start.unknown_case");
  location.replace("#/");
}
