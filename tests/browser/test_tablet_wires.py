"""A wire comes by itself; the screen names it only when there are two."""

import re

import pytest
from playwright.sync_api import expect

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
