"""A case told in a file, entered on the tablet's screens by finger or by keys."""

from __future__ import annotations

import json
import re
from datetime import date, datetime
from pathlib import Path
from typing import Any

from playwright.sync_api import Locator, expect

from tests.support.bedside import Bedside
from tests.support.fingers import Fingers
from tests.support.keys import Keys
from webapp.catalogue import CATALOGUE
from webapp.catalogue.model import Field

# What a field's state becomes once something was kept for it.
KEPT = re.compile("ok|soft|impossible|not_known|not_done")
# The tablet opens a wire by itself with the first field of one.
BY_ITSELF = ("wires",)
# No part of the procedure, but on the rail beside them.
ON_RAIL_TOO = ("checks", "removal")


class Hands:
    """One pair of hands at one tablet, reading a told case out of a file."""

    def __init__(
        self, bedside: Bedside, file: Path, by: Fingers | Keys | None = None
    ) -> None:
        self.bedside = bedside
        self.by = by or Fingers(bedside)
        self.told = json.loads(file.read_text(encoding="utf-8"))
        self.named: dict[str, str] = {}
        self.part = ""

    def enters(
        self, skip: tuple[str, ...] = (), first: int = 0, upto: int | None = None
    ) -> None:
        """Enter the entries in their order; `skip`: paths the start key filled.

        `first`, `upto`: some of them, as before a signature and after it.
        """
        for entry in self.told["entries"][first:upto]:
            path = entry["path"]
            if path not in (*BY_ITSELF, *skip):
                self._enter(path, entry)

    def _enter(self, path: str, entry: dict[str, Any]) -> None:
        bare = path.split("/")[-1]
        part_name = bare.split(".")[0]
        field = CATALOGUE.field(bare)
        assert field is not None, bare
        self._turns_to(part_name)
        root = self._root(f"wires/*/{bare}" if field.per_wire else bare)
        if entry.get("op") == "add":
            self._add(root, field, entry)
            return
        self._fill(root, field, entry["value"])
        self.by.leaves(root)
        expect(root).to_have_attribute("data-state", KEPT)

    def _turns_to(self, part: str) -> None:
        if part != self.part:
            declared = CATALOGUE.part(part)
            assert declared is not None
            if declared.on_rail or part in ON_RAIL_TOO:
                self.by.goes_to(declared.label)
            else:
                self._turns_off_the_rail(declared.label)
            self.part = part

    def _turns_off_the_rail(self, label: str) -> None:
        """Reach a part that has no place on the rail: its key stands in Finish."""
        self.by.goes_to("Finish")
        self.by.taps(self.bedside.page.get_by_role("link", name=label))
        heading = self.bedside.page.get_by_role("heading", name=label, exact=True)
        expect(heading.first).to_be_visible()

    def _root(self, template: str) -> Locator:
        return self.bedside.page.locator(
            f'.part:visible [data-path="{template}"]'
        ).first

    def _add(self, root: Locator, field: Field, entry: dict[str, Any]) -> None:
        value = dict(entry["value"])
        place = root
        if "of" in value:
            parent = self.named[value.pop("of")]
            place = self.bedside.page.locator(f'.part:visible [data-entry="{parent}"]')
        before = self._entries_within(place)
        label = field.label
        add = place.get_by_role("button", name=f"Add: {label}", exact=True).first
        self.by.taps(add)
        expect(self.bedside.page.get_by_role("dialog", name=label)).to_be_visible()
        sheet = self.bedside.page.locator("#sheet")
        for child_name, told in value.items():
            child = field.child(child_name)
            assert child is not None, child_name
            self._fill(sheet.locator(f'[data-child="{child_name}"]'), child, told)
        self.by.taps(sheet.get_by_role("button", name="Keep", exact=True))
        expect(sheet).to_be_hidden()
        expect(place.locator("[data-entry]")).to_have_count(len(before) + 1)
        if "as" in entry:
            (made,) = set(self._entries_within(place)) - set(before)
            self.named[f"@{entry['as']}"] = made

    def _entries_within(self, place: Locator) -> list[str]:
        return place.locator("[data-entry]").evaluate_all(
            "rows => rows.map(row => row.dataset.entry)"
        )

    def _fill(self, root: Locator, field: Field, told: Any) -> None:
        if isinstance(told, dict) and "absent" in told:
            self._say_absent(root, told)
            return
        match field.kind:
            case "yn" | "one":
                self._tap(root, told)
            case "many":
                for pick in told:
                    self._tap(root, pick)
            case "qty":
                self.by.fills(root.locator(".qty"), told["typed"])
                unit = root.locator("select.field-unit")
                if told.get("unit") and unit.count():
                    self.by.selects(unit, told["unit"])
            case "moment":
                self._fill_moment(root, told)
            case "person":
                who = self.told["people"][told["who"]]
                self.by.fills(root.locator(".person-name"), who["name"])
                self.by.fills(root.locator(".person-role"), who["role"])
                credential = root.locator(".person-credential")
                self.by.fills(credential, who.get("credential", ""))
            case _:
                text = told["typed"] if isinstance(told, dict) else told
                self.by.fills(root.locator(".field-controls .input").first, text)

    def _tap(self, root: Locator, pick: str | dict[str, str]) -> None:
        """Choose an answer; {"other": "words"} is a choice with its own words."""
        ((code, words),) = pick.items() if isinstance(pick, dict) else ((pick, ""),)
        key = f'.field-controls .choice > input[value="{code}"]'
        self.by.chooses(root.locator(key))
        if words:
            box = root.locator(f".choice:has(> input[value='{code}']) + .choice-other")
            self.by.fills(box, words)

    def _fill_moment(self, root: Locator, told: dict[str, str]) -> None:
        if "day" in told:
            day = date.fromisoformat(told["day"])
            self.by.fills(root.locator(".moment-day"), _day_words(day))
            return
        text = told.get("time") or told["about"]
        began = datetime.fromisoformat(self.told["began"])
        day = datetime.fromisoformat(text).date() if "T" in text else began.date()
        self.by.fills(root.locator(".moment-day"), _day_words(day))
        self.by.fills(root.locator(".moment-time"), text.split("T")[-1])
        if "about" in told:
            self.by.chooses(root.locator('.choice > input[value="about"]'))

    def _say_absent(self, root: Locator, told: dict[str, str]) -> None:
        if told["absent"] == "not_known" and "not_stated_by" not in told:
            self.by.chooses(root.locator('.choice > input[value="not_known"]').first)
            return
        self.by.taps(root.locator(".more-key"))
        # The words beside a way of giving no answer choose it.
        if told["absent"] == "not_done":
            self.by.fills(root.locator(".absence-because"), told["because"])
        else:
            box = root.locator(".absence-not-stated-by")
            self.by.fills(box, told["not_stated_by"])
        self.by.enters()


def _day_words(day: date) -> str:
    return f"{day.day} {day:%b %Y}"
