"""A case told in a file, entered on the tablet's screens by hand, tap by tap."""

from __future__ import annotations

import json
import re
from datetime import date, datetime
from pathlib import Path
from typing import Any

from playwright.sync_api import Locator, expect

from tests.support.bedside import Bedside
from webapp.catalogue import CATALOGUE
from webapp.catalogue.model import Field

# What a field's state becomes once something was kept for it.
KEPT = re.compile("ok|soft|impossible|not_known|not_done")
# The tablet opens a wire by itself with the first field of one.
BY_ITSELF = ("wires",)


class Hands:
    """One pair of hands at one tablet, reading a told case out of a file."""

    def __init__(self, bedside: Bedside, file: Path) -> None:
        self.bedside = bedside
        self.told = json.loads(file.read_text(encoding="utf-8"))
        self.named: dict[str, str] = {}
        self.part = ""

    def enters(self, skip: tuple[str, ...] = ()) -> None:
        """Enter every entry in its order; `skip`: paths the start key filled."""
        for entry in self.told["entries"]:
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
        self.bedside.leaves(root)
        expect(root).to_have_attribute("data-state", KEPT)

    def _turns_to(self, part: str) -> None:
        if part != self.part:
            declared = CATALOGUE.part(part)
            assert declared is not None
            if declared.on_rail:
                self.bedside.goes_to(declared.label)
            else:
                self._turns_off_the_rail(declared.label)
            self.part = part

    def _turns_off_the_rail(self, label: str) -> None:
        """Reach a part that has no place on the rail: its key stands in Finish."""
        self.bedside.goes_to("Finish")
        self.bedside.page.get_by_role("link", name=label).click()
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
        place.get_by_role("button", name=f"Add: {label}", exact=True).first.click()
        sheet = self.bedside.page.locator("#sheet")
        for child_name, told in value.items():
            child = field.child(child_name)
            assert child is not None, child_name
            self._fill(sheet.locator(f'[data-child="{child_name}"]'), child, told)
        self.bedside.keeps_row()
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
                for code in told:
                    self._tap(root, code)
            case "qty":
                root.locator(".qty").fill(told["typed"])
                unit = root.locator("select.field-unit")
                if told.get("unit") and unit.count():
                    unit.select_option(value=told["unit"])
            case "moment":
                self._fill_moment(root, told)
            case "person":
                who = self.told["people"][told["who"]]
                root.locator(".person-name").fill(who["name"])
                root.locator(".person-role").fill(who["role"])
                root.locator(".person-credential").fill(who.get("credential", ""))
            case _:
                text = told["typed"] if isinstance(told, dict) else told
                root.locator(".field-controls .input").first.fill(text)

    def _tap(self, root: Locator, code: str) -> None:
        key = f'.field-controls .choice:has(input[value="{code}"])'
        root.locator(key).click()

    def _fill_moment(self, root: Locator, told: dict[str, str]) -> None:
        if "day" in told:
            day = date.fromisoformat(told["day"])
            root.locator(".moment-day").fill(_day_words(day))
            return
        text = told.get("time") or told["about"]
        began = datetime.fromisoformat(self.told["began"])
        day = datetime.fromisoformat(text).date() if "T" in text else began.date()
        root.locator(".moment-day").fill(_day_words(day))
        root.locator(".moment-time").fill(text.split("T")[-1])
        if "about" in told:
            root.locator('.choice:has(input[value="about"])').click()

    def _say_absent(self, root: Locator, told: dict[str, str]) -> None:
        if told["absent"] == "not_known" and "not_stated_by" not in told:
            root.locator('.choice:has(input[value="not_known"])').first.click()
            return
        root.locator(".more-key").click()
        if told["absent"] == "not_done":
            root.locator('.choice:has(input[value="not_done"])').click()
            box = root.locator(".absence-because")
            box.fill(told["because"])
        else:
            box = root.locator(".absence-not-stated-by")
            box.fill(told["not_stated_by"])
        box.press("Enter")


def _day_words(day: date) -> str:
    return f"{day.day} {day:%b %Y}"
