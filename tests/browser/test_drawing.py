"""A signature stays on the screen and in the log, whatever happens to the screen."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

LABEL = "Signature"
PATH = "consent.signature"
# How many pixels of the drawing hold ink.
_INK = """(canvas) => {
  const { width, height } = canvas;
  const { data } = canvas.getContext("2d").getImageData(0, 0, width, height);
  return data.reduce((sum, value, at) => sum + (at % 4 === 3 && value > 0 ? 1 : 0), 0);
}"""
_POINTER = """(canvas, [type, pointerId, x, y]) => {
  const box = canvas.getBoundingClientRect();
  canvas.setPointerCapture = () => {};
  canvas.dispatchEvent(new PointerEvent(type, {
    pointerId, bubbles: true, clientX: box.left + x, clientY: box.top + y }));
}"""


@pytest.fixture
def case(bedside):
    """A case at the question for the patient's signature."""
    bedside.starts_new()
    bedside.goes_to("Consent")
    bedside.picks("Consent", "By the patient")
    return bedside


def canvas(case):
    return case.field(LABEL).locator("canvas")


def ink(case) -> int:
    return int(canvas(case).evaluate(_INK))


def pointer(case, kind: str, number: int, x: int, y: int) -> None:
    canvas(case).evaluate(_POINTER, [kind, number, x, y])


def signed(case) -> int:
    """Sign, leave the field, and return how much ink that took."""
    case.draws(LABEL, (20, 60), (80, 20), (140, 90))
    case.leaves(case.field(LABEL))
    case.says(LABEL, "kept")
    return ink(case)


def test_turning_the_tablet_or_a_keyboard_clears_no_ink(case):
    before = signed(case)
    assert before > 100
    kept = case.value(PATH)
    size = case.page.viewport_size
    for width, height in ((800, 1280), (1280, 800), (1280, 320), (390, 844)):
        case.page.set_viewport_size({"width": width, "height": height})
        canvas(case).scroll_into_view_if_needed()
        assert ink(case) == before
    case.page.set_viewport_size(size)
    assert ink(case) == before
    assert case.value(PATH) == kept


def test_a_stroke_under_the_hand_stays_while_the_screen_is_drawn_anew(case):
    canvas(case).scroll_into_view_if_needed()
    box = canvas(case).bounding_box()
    case.page.mouse.move(box["x"] + 20, box["y"] + 20)
    case.page.mouse.down()
    case.page.mouse.move(box["x"] + 120, box["y"] + 60)
    before = ink(case)
    assert before > 100
    case.somebody_else_says("patient.given_name", "TEST", "E. Tarn-Example")
    case.page.evaluate("dispatchEvent(new Event('resize'))")
    case.keeps("patient.given_name", "TEST")
    assert ink(case) == before
    case.page.mouse.up()
    case.leaves(case.field(LABEL))
    case.says(LABEL, "kept")
    assert len(case.value(PATH)["strokes"]) == 1


def test_a_pointer_that_is_taken_away_leaves_its_ink(case):
    pointer(case, "pointerdown", 7, 20, 20)
    pointer(case, "pointermove", 7, 120, 60)
    before = ink(case)
    pointer(case, "pointercancel", 7, 120, 60)
    assert ink(case) == before > 100
    case.leaves(case.field(LABEL))
    case.says(LABEL, "kept")
    assert len(case.value(PATH)["strokes"]) == 1


def test_a_palm_beside_the_pen_neither_clears_nor_draws(case):
    pointer(case, "pointerdown", 7, 20, 20)
    pointer(case, "pointermove", 7, 120, 60)
    before = ink(case)
    pointer(case, "pointerdown", 8, 200, 80)
    pointer(case, "pointermove", 8, 260, 20)
    pointer(case, "pointerup", 8, 260, 20)
    assert ink(case) == before
    pointer(case, "pointerup", 7, 120, 60)
    case.leaves(case.field(LABEL))
    case.says(LABEL, "kept")
    [stroke] = case.value(PATH)["strokes"]
    assert len(stroke) == 3


def test_a_signature_that_is_cleared_is_none_and_can_be_given_again(case):
    signed(case)
    case.field(LABEL).get_by_role("button", name="Clear").click()
    case.keeps(PATH, {"absent": "not_asked"})
    assert ink(case) == 0
    assert signed(case) > 100
    assert len(case.value(PATH)["strokes"]) == 1


def test_nothing_drawn_is_no_signature(case):
    canvas(case).focus()
    canvas(case).press("Enter")
    case.leaves(case.field(LABEL))
    assert case.value(PATH) == []


def test_a_stroke_that_is_no_entry_yet_is_on_the_screen_after_a_reload(case):
    case.draws(LABEL, (20, 60), (80, 20), (140, 90))
    before = ink(case)
    case.waits_for("document.querySelector('.drawing[data-draft]') !== null")
    case.reloads()
    expect(case.field(LABEL).locator("canvas")).to_be_visible()
    assert ink(case) == before
