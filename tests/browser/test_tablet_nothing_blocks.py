"""Nothing blocks the case: what is impossible is kept as typed, marked, and goes on."""

import re

import pytest
from playwright.sync_api import expect

# One number of each part that has any, beyond what can be; fields.md gives each range.
IMPOSSIBLE = [
    ("Patient", "Height", "340", "patient.height"),
    ("Indication", "Escape rate", "400", "indication.escape_rate"),
    ("Approach", "Introducer", "40", "wires/{wire}/approach.introducer_fr"),
    (
        "Advance",
        "Final depth at sheath hub",
        "340",
        "wires/{wire}/advance.final_depth",
    ),
    ("Capture", "Rate counted", "400", "wires/{wire}/capture.mechanical_rate"),
    ("Finish", "Target rate", "900", "finish.target_rate"),
]


@pytest.fixture
def told(bedside):
    """A case in which each part holds a number that cannot be."""
    bedside.starts_new()
    for part, label, typed, _ in IMPOSSIBLE:
        bedside.goes_to(part)
        bedside.types(label, typed)
        bedside.says(label, "impossible")
        expect(bedside.field(label)).to_have_attribute("data-state", "impossible")
        box = bedside.field(label).locator(".qty")
        expect(box).to_have_value(typed)
        expect(box).to_have_attribute("aria-invalid", "true")
    return bedside


def test_impossible_numbers_of_every_part_are_kept_and_the_case_is_finished(told):
    fold = told.fold()
    (wire,) = [row["id"] for row in fold["rows"]["wires"]]
    for _, _, typed, path in IMPOSSIBLE:
        (head,) = fold["values"][path.format(wire=wire)]
        assert head["value"]["as"] == typed
    for _, label, _, _ in IMPOSSIBLE:
        link = told.page.get_by_role("link", name=f"{label} impossible as told")
        expect(link).to_be_visible()
    told.page.get_by_role("button", name="Case finished").click()
    said = told.page.locator(".finish-said")
    expect(said).to_have_text(re.compile("^This case is finished"))


def test_an_impossible_number_of_a_row_is_kept_as_typed_and_marked(bedside):
    bedside.starts_new()
    bedside.goes_to("Pacing checks")
    bedside.adds("Pacing check")
    depth = bedside.page.locator("#sheet [data-child='depth']")
    depth.locator(".qty").fill("340")
    expect(depth).to_have_attribute("data-state", "impossible")
    bedside.keeps_row()
    (row,) = next(v for k, v in bedside.fold()["rows"].items() if "checks.check" in k)
    assert row["value"]["depth"]["as"] == "340"
