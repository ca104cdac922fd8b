"""What is being pressed stays where it is until the tap was told."""

import pytest
from playwright.sync_api import expect

OPEN_OF_PATIENT = "#rail [data-part=patient] .stop-count"


@pytest.fixture
def case(bedside):
    """A case on its first part."""
    bedside.page.set_viewport_size({"width": 1280, "height": 800})
    bedside.starts_now()
    return bedside


def presses(page, stop):
    """Press a stop of the rail, and hold it."""
    box = stop.bounding_box()
    page.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    page.mouse.down()


def test_a_part_pressed_while_a_name_is_being_kept_is_gone_to(case):
    page = case.page
    name = case.field("Given name").get_by_role("textbox", name="Given name")
    name.press_sequentially("Test-Ines")
    # Leaving the field keeps the name, and with it the count on this very rail changes.
    presses(page, page.locator("#rail [data-part=indication]"))
    case.keeps("patient.given_name", "Test-Ines")
    page.mouse.up()
    expect(page.locator("#part-indication:not([hidden])")).to_have_count(1)


def test_what_arrives_is_drawn_after_the_release(case):
    page = case.page
    count = page.locator(OPEN_OF_PATIENT)
    before = count.inner_text()
    stop = page.locator("#rail [data-part=indication]")
    held = stop.element_handle()
    presses(page, stop)
    case.somebody_else_says("patient.given_name", "Test-Ines", "Nina Prøve")
    case.keeps("patient.given_name", "Test-Ines")
    assert held.evaluate("(stop) => stop.isConnected")
    assert count.inner_text() == before
    # Let go beside the rail: nothing is gone to, and what arrived is shown.
    page.mouse.move(2, 2)
    page.mouse.up()
    expect(count).not_to_have_text(before)
    expect(page.locator("#part-patient:not([hidden])")).to_have_count(1)
