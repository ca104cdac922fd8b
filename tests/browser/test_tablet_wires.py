"""A wire comes by itself; the screen names it only when there are two."""

import re

import pytest
from playwright.sync_api import expect

from tests.support.told_here import Told

NEXT = "Add a wire"


@pytest.fixture
def case(bedside):
    """A case open on Approach."""
    bedside.starts_new()
    bedside.goes_to("Approach")
    return bedside


def test_the_first_field_of_a_wire_brings_the_wire(case):
    case.picks("Site and side", "Internal jugular, right")
    case.says("Site and side", "kept")
    (wire,) = case.rows("wires")
    assert wire["value"]["name"] == "Wire 1"
    path = f"wires/{wire['id']}/approach.site"
    assert case.value(path) == "internal_jugular_right"


def test_two_fields_at_once_bring_one_wire(case):
    case.page.evaluate(
        """() => ["approach.site", "approach.chamber"].forEach((path) =>
          document.querySelector(`.part:not([hidden]) [data-path="wires/*/${path}"] input`).click())"""
    )
    case.says("Chamber", "kept")
    case.says("Site and side", "kept")
    assert len(case.rows("wires")) == 1


def test_one_wire_is_not_named(case):
    case.picks("Site and side", "Internal jugular, right")
    case.says("Site and side", "kept")
    expect(case.page.locator(".part:visible .pair")).to_have_count(0)


def test_two_wires_are_named_and_have_answers_of_their_own(case):
    case.picks("Site and side", "Internal jugular, right")
    case.says("Site and side", "kept")
    case.page.get_by_role("button", name=NEXT).click()
    keys = case.page.get_by_role("group", name="Which wire")
    expect(keys.get_by_role("link", name="Wire 2")).to_have_attribute(
        "aria-current", "true"
    )
    case.says("Site and side", "not asked")
    case.picks("Site and side", "Femoral, right")
    case.says("Site and side", "kept")
    expect(keys).to_contain_text("Wire 1, internal jugular, right")
    expect(keys).to_contain_text("Wire 2, femoral, right")
    keys.get_by_role("link", name=re.compile("^Wire 1")).click()
    chosen = case.field("Site and side").get_by_role(
        "radio", name="Internal jugular, right"
    )
    expect(chosen).to_be_checked()


def test_the_numbers_belong_to_the_wire_on_the_screen(case):
    case.picks("Site and side", "Internal jugular, right")
    case.says("Site and side", "kept")
    case.goes_to("Advance")
    case.page.get_by_role("button", name="Depth reading", exact=True).click()
    case.types("Depth", "34")
    case.keeps_row()
    panel = case.page.locator("#panel")
    expect(panel.locator(".num")).to_contain_text("34")
    case.goes_to("Approach")
    case.page.get_by_role("button", name=NEXT).click()
    expect(case.page.get_by_role("link", name="Wire 2")).to_be_visible()
    case.goes_to("Advance")
    expect(panel).to_contain_text("no depth read")


@pytest.fixture
def two_wires(bedside):
    """A case of two wires: the first under test in volts, the second in view."""
    bedside.starts_new()
    told, record = Told(), bedside.record
    wires = [told.adds("", "wires", {"name": f"Wire {n}"}) for n in (1, 2)]
    volts = {"as": "1.2", "n": "1.2", "unit": "V"}
    at = f"wires/{wires[0]}/capture"
    test = told.adds("", f"{at}.threshold_test", {"kind": "full", "unit": "V"})
    reading = {"of": test, "output_v": volts, "result": "captures"}
    told.adds("", f"{at}.output_reading", reading)
    told.put(bedside.page, record)
    bedside.goes_to("Capture")
    return bedside, [row["id"] for row in bedside.rows("wires")]


def shows_wire(case, wire, part="capture"):
    case.page.evaluate(
        "([record, part, wire]) => "
        "{ location.hash = `#/case/${record}/${part}/${wire}`; }",
        [case.record, part, wire],
    )


def test_of_two_wires_the_strip_says_which_one_is_in_view(two_wires):
    case, wires = two_wires
    shown = case.page.locator("#case-strip .who-wire")
    for n, wire in enumerate(wires, 1):
        shows_wire(case, wire)
        expect(shown).to_have_text(f"Wire {n} (wire {n} of 2)")
    # A link that names no wire is about the one in view.
    shows_wire(case, wires[0])
    expect(shown).to_have_text("Wire 1 (wire 1 of 2)")
    case.page.evaluate("(r) => { location.hash = `#/case/${r}/advance`; }", case.record)
    expect(case.page.locator("#part-advance:not([hidden])")).to_have_count(1)
    expect(shown).to_have_text("Wire 1 (wire 1 of 2)")


def test_test_settings_stand_while_the_other_wire_is_in_view(two_wires):
    case, wires = two_wires
    shows_wire(case, wires[1])
    expect(case.page.locator("#case-strip .who-wire")).to_contain_text("Wire 2")
    banner = case.page.locator("#stand .stand-test")
    expect(banner).to_contain_text("TEST SETTINGS")
    expect(banner).to_contain_text("Wire 1")
