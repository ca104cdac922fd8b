"""One finger at a touched tablet: every touch is counted, every letter told apart."""

from __future__ import annotations

import re
from collections import Counter
from typing import Any

from playwright.sync_api import Locator, expect

from tests.support.bedside import Bedside
from webapp.catalogue import CATALOGUE
from webapp.catalogue.model import Field

# What a field's state becomes once something was kept for it.
KEPT = re.compile("ok|soft|not_known|not_done")
# Needs without which the note cannot stand; the rest is answered before signing.
_NEEDED = re.compile(r"^N\d?$")

NOW = object()
NOT_KNOWN = object()


class Words(str):
    """Typed on the tablet's own keyboard."""


class Number(str):
    """Keyed in on the keypad beside its field; `unit`: chosen from a list, two taps."""

    unit: str

    def __new__(cls, figures: str, unit: str = "") -> Number:
        """Take the figures, and the unit where one is asked for."""
        made = super().__new__(cls, figures)
        made.unit = unit
        return made


class Count(str):
    """Tapped on the key beside a number that counts things."""


class OneFinger:
    """Touches and types. `taps`, `letters`: by heading and by what they are for."""

    def __init__(self, bedside: Bedside) -> None:
        self.bedside, self.page = bedside, bedside.page
        self.taps: Counter[tuple[str, str]] = Counter()
        self.letters: Counter[tuple[str, str]] = Counter()
        self.part = "Start"

    def total(self, *kinds: str) -> int:
        """Return the taps of these kinds."""
        return sum(n for (_, kind), n in self.taps.items() if kind in kinds)

    # -- Touching ------------------------------------------------------------
    def touches(self, key: Locator, kind: str = "needed") -> None:
        """Touch one thing."""
        self.taps[self.part, kind] += 1
        key.tap()

    def acts(self, *acts: str, within: str = "#panel") -> None:
        """Touch keys of a live screen, one after the other."""
        for act in acts:
            # Keys that just came into the grid are not answered yet.
            expect(self.page.locator(".adv-grid[data-held]")).to_have_count(0)
            self.touches(self.page.locator(f"{within} [data-act='{act}']"))

    def goes_to(self, part: str) -> None:
        """Open a part from the rail."""
        self.part = part
        rail = self.page.get_by_role("navigation", name="Parts of the case")
        stop = rail.get_by_role("link", name=re.compile(f"^{part}"))
        name = stop.get_attribute("data-part")
        self.touches(stop)
        expect(self.page.locator(f"#part-{name}:not([hidden])")).to_have_count(1)

    def shows_fields(self) -> None:
        """Go from the live screen to its part's fields."""
        self.acts("view-fields", within="#view-key")
        expect(self.page.locator("#work")).to_have_attribute("data-view", "fields")

    # -- Answering -----------------------------------------------------------
    def answers(self, path: str, told: Any, kind: str = "") -> None:
        """Answer a field of the part in sight as its catalogue path says."""
        field = CATALOGUE.field(path)
        assert field is not None, path
        root = self._root(path, field)
        kind = kind or _kind_of(field)
        if isinstance(told, dict):
            self._adds(root, field, told, kind)
        else:
            self._fills(root, field, told, kind)
            self.bedside.leaves(root)
        expect(root).to_have_attribute("data-state", KEPT)

    def _root(self, path: str, field: Field) -> Locator:
        template = f"wires/*/{path}" if field.per_wire else path
        return self.page.locator(f'.part:visible [data-path="{template}"]').first

    def _adds(self, root: Locator, field: Field, told: Any, kind: str) -> None:
        self.touches(root.locator(":scope > .group-head > .group-add"), kind)
        sheet = self.page.locator("#sheet")
        expect(sheet).to_be_visible()
        for name, value in told.items():
            child = field.child(name)
            assert child is not None, name
            self._fills(sheet.locator(f'[data-child="{name}"]'), child, value, kind)
        self.touches(sheet.locator("[data-act=keep-row]"), kind)
        expect(sheet).to_be_hidden()

    def _fills(self, root: Locator, field: Field, told: Any, kind: str) -> None:
        controls = root.locator(":scope .field-controls")
        if told is NOT_KNOWN:
            self.touches(root.locator("input[value='not_known']").first, kind)
        elif told is NOW:
            self.touches(controls.locator("[data-act=now]"), kind)
        elif isinstance(told, Number):
            self._keys_in(root, told, kind)
        elif isinstance(told, Count):
            self.touches(controls.locator(f"[data-count='{told}']"), kind)
        elif isinstance(told, Words):
            box = ".person-name" if field.kind == "person" else ".input"
            self.touches(controls.locator(box).first, kind)
            self.page.keyboard.type(told)
            self.letters[self.part, kind] += len(told)
        else:
            for code in told if isinstance(told, list) else [told]:
                self.touches(controls.locator(f"input[value='{code}']").first, kind)

    def _keys_in(self, root: Locator, figures: Number, kind: str) -> None:
        self.touches(root.locator(".qty"), kind)
        for figure in (*figures, "done"):
            self.touches(root.locator(f".keypad [data-key='{figure}']"), kind)
        if figures.unit:
            # Its list opens, and one is chosen of it: the tablet draws it, not the page.
            self.taps[self.part, kind] += 2
            root.locator("select.field-unit").select_option(value=figures.unit)


def _kind_of(field: Field) -> str:
    is_needed = any(_NEEDED.match(need) for need in field.needs)
    return "needed" if is_needed else "beside"
