"""A person who has no pointer: Tab, arrows, Enter, Space and typing, nothing else.

Each time the focus moves, the page itself notes whether it can be seen: on the screen,
not under something else, with its rim.
"""

from __future__ import annotations

import re

from playwright.sync_api import Locator, expect

from tests.support.bedside import Bedside

# In the page: every stop of Tab in its order, one a group of radios.
_WATCH = """() => {
  const isStop = (one) => one.tabIndex >= 0 && !one.disabled && one.checkVisibility({ visibilityProperty: true })
    && !one.closest("[inert]");
  const css = "a[href], button, input:not([type=hidden]), textarea, select, canvas, [tabindex]";
  window.tabStops = () => {
    const open = document.querySelector("dialog[open]") ?? document;
    const all = [...open.querySelectorAll(css)].filter(isStop);
    const sets = Map.groupBy(all.filter((one) => one.type === "radio"), (one) => one.name);
    return all.filter((one) => {
      if (one.type !== "radio") return true;
      const set = sets.get(one.name);
      return one === (set.find((other) => other.checked) ?? set[0]);
    });
  };
  // Steps of Tab from the focus to a control; radios of one question are one step.
  window.stepsTo = (goal) => {
    const stops = window.tabStops();
    const isSet = (one) => goal.type === "radio" && one.type === "radio" && one.name === goal.name;
    const to = stops.findIndex((one) => one === goal || isSet(one));
    const at = document.activeElement;
    let from = stops.findIndex((one) => one === at || (at.type === "radio" && one.name === at.name));
    if (from < 0) {
      const after = stops.findIndex((one) => at.compareDocumentPosition(one) & Node.DOCUMENT_POSITION_FOLLOWING);
      from = after < 0 ? stops.length - 1 : after - 0.5;
    }
    const far = to - from;
    return to < 0 ? null : far > 0 ? Math.ceil(far) : Math.floor(far);
  };
  window.unseen = [];
  const rim = (one) => {
    const style = getComputedStyle(one);
    return style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2;
  };
  document.addEventListener("focusin", ({ target }) => setTimeout(() => {
    if (target !== document.activeElement || target.matches(".part, h2, dialog")) return;
    const shown = target.closest(".choice") ?? target;
    const box = shown.getBoundingClientRect();
    const on = document.elementFromPoint(box.left + box.width / 2, box.top + Math.min(box.height / 2, 24));
    const isOn = on && (shown.contains(on) || on.contains(shown) && !on.matches(".part, main, body"));
    const name = [target.closest("[data-path]")?.dataset.path, target.closest("[data-child]")?.dataset.child,
      target.ariaLabel || target.textContent.slice(0, 20) || target.className].filter(Boolean).join(" ");
    if (!isOn) window.unseen.push(`covered by ${on?.className || on?.tagName}: ${name}`);
    if (!rim(shown) && !rim(target)) window.unseen.push(`no rim: ${name}`);
  }, 0));
}"""


class Keys:
    """The hands of somebody with a keyboard; the same verbs as a finger's."""

    def __init__(self, bedside: Bedside) -> None:
        self.bedside = bedside
        self.keyboard = bedside.page.keyboard
        bedside.page.evaluate(_WATCH)

    @property
    def unseen(self) -> list[str]:
        """What had the focus and could not be seen to have it."""
        found: list[str] = self.bedside.page.evaluate("[...new Set(window.unseen)]")
        return found

    def reaches(self, goal: Locator) -> None:
        """Press Tab, or Shift and Tab, until a control has the focus."""
        for _ in range(4):
            steps = goal.evaluate("(one) => window.stepsTo(one)")
            assert steps is not None, f"no way by Tab: {goal}"
            for _ in range(abs(steps)):
                self.keyboard.press("Tab" if steps > 0 else "Shift+Tab")
            if goal.evaluate(
                "(one) => one === document.activeElement || (one.type === 'radio'"
                " && document.activeElement.name === one.name)"
            ):
                return
        raise AssertionError(f"Tab does not lead to {goal}")

    def taps(self, key: Locator) -> None:
        """Press a key, a link or a box of several."""
        self.reaches(key)
        self.keyboard.press("Enter")

    def chooses(self, box: Locator) -> None:
        """Choose an answer: arrows within a question of one, Space for one of many."""
        self.reaches(box)
        steps = box.evaluate(
            """(box) => {
              if (box.type !== "radio") return 0;
              const set = [...box.form?.elements ?? document.querySelectorAll("input")]
                .filter((one) => one.type === "radio" && one.name === box.name && one.checkVisibility());
              return set.indexOf(box) - set.indexOf(document.activeElement);
            }"""
        )
        for _ in range(abs(steps)):
            self.keyboard.press("ArrowDown" if steps > 0 else "ArrowUp")
        self.keyboard.press("Enter" if steps else "Space")
        expect(box).to_be_checked()

    def fills(self, box: Locator, text: str) -> None:
        """Write in a line from its beginning."""
        if not text and not box.input_value():
            return
        self.reaches(box)
        self.keyboard.press("ControlOrMeta+A")
        self.keyboard.insert_text(text)

    def selects(self, box: Locator, value: str) -> None:
        """Choose from a list by arrows."""
        self.reaches(box)
        steps = box.evaluate(
            "(box, value) => [...box.options].findIndex((one) => one.value === value)"
            " - box.selectedIndex",
            value,
        )
        for _ in range(abs(steps)):
            self.keyboard.press("ArrowDown" if steps > 0 else "ArrowUp")
        expect(box).to_have_value(value)

    def enters(self) -> None:
        """Press Enter where the focus is."""
        self.keyboard.press("Enter")

    def leaves(self, root: Locator) -> None:
        """Go on to the next question."""
        while root.evaluate("(root) => root.contains(document.activeElement)"):
            self.keyboard.press("Tab")

    def goes_to(self, part: str) -> None:
        """Escape to the head of the part, its key to the rail, and along it."""
        page = self.bedside.page
        self.keyboard.press("Escape")
        self.taps(page.locator(".part:visible .skip"))
        picker = page.locator(".rail-picker")
        if picker.is_visible():
            self.keyboard.press("Enter")
        link = page.get_by_role("navigation", name="Parts of the case").get_by_role(
            "link", name=re.compile(f"^{part}")
        )
        name = link.get_attribute("data-part")
        self.taps(link)
        expect(page.locator(f"#part-{name}:not([hidden])")).to_have_count(1)
        to_fields = page.locator("[data-act=view-fields]")
        if to_fields.is_visible():
            self.taps(to_fields)
        heading = page.get_by_role("heading", name=part, exact=True, level=2)
        expect(heading).to_be_visible()

    def starts_now(self) -> None:
        """Begin a case from Start."""
        page = self.bedside.page
        self.taps(page.get_by_role("button", name="Start now, no name"))
        heading = page.get_by_role("heading", name="Patient", exact=True)
        expect(heading).to_be_visible()

    def is_now(self, name: str, role: str) -> None:
        """Say who is at the tablet."""
        page = self.bedside.page
        self.taps(page.locator("[data-act='who']:visible"))
        sheet = page.get_by_role("dialog", name="Who is here")
        expect(sheet).to_be_visible()
        self.fills(sheet.get_by_label("At this tablet: name"), name)
        self.fills(sheet.get_by_label("At this tablet: role"), role)
        self.taps(sheet.get_by_role("button", name="These from now on"))
        expect(sheet).to_be_hidden()
