"""What is being pressed stays where it is until the tap was told."""

import pytest
from playwright.sync_api import expect

# Typed and left by no hand, while the hand is elsewhere.
KEEP_A_NAME = """() => {
  const box = document.querySelector('[data-path="patient.given_name"] input.input');
  box.value = "Test-Ines";
  box.dispatchEvent(new Event("input", { bubbles: true }));
  box.dispatchEvent(new FocusEvent("focusout", { bubbles: true }));
}"""
STRUCK = """async (record) => {
  const { openStore } = await import("/static/js/log/store.js");
  const store = await openStore();
  const { rows } = await store.fold(record);
  store.close();
  return rows.moments.filter(({ struck }) => struck).map(({ value }) => value.name);
}"""
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


def test_a_receipt_s_key_that_is_pressed_does_what_it_said(case):
    page = case.page
    page.locator("[data-act=moments]").click()
    page.locator("[data-moment=cardiology_called]").click()
    strike = page.locator("#kept [data-act=strike-kept]")
    expect(strike).to_contain_text("Cardiology called")
    presses(page, strike)
    # Another answer is kept meanwhile, and its receipt has no such key.
    page.evaluate(KEEP_A_NAME)
    case.keeps("patient.given_name", "Test-Ines")
    page.mouse.up()
    case.waits_for(
        f"(await ({STRUCK})('{case.record}')).join() === 'cardiology_called'"
    )


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
