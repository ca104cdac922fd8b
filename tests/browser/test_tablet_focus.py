"""Every stop of Tab is seen to have the focus, and none is a trap."""

import pytest

from tests.support.keys import Keys

PARTS = [
    "Patient",
    "Indication",
    "Consent",
    "Approach",
    "Advance",
    "Capture",
    "Finish",
    "Pacing checks",
    "Removal",
]
SHEETS = [("Indication", "Drug given"), ("Capture", "Dial left at")]
OUTSIDE = "(css) => !document.activeElement.closest(css)"
STOPS = "(css) => window.tabStops().filter((one) => one.closest(css)).length"


@pytest.fixture
def keys(bedside):
    bedside.page.set_viewport_size({"width": 1280, "height": 800})
    made = Keys(bedside)
    made.starts_now()
    return made


def goes_through(keys, css):
    """Tab through everything in a place and out of it."""
    page = keys.bedside.page
    stops = page.evaluate(STOPS, css)
    for _ in range(stops):
        keys.keyboard.press("Tab")
    for _ in range(stops):
        if page.evaluate(OUTSIDE, css):
            break
        keys.keyboard.press("Tab")
    assert page.evaluate(OUTSIDE, css)
    assert keys.unseen == []


def test_tab_goes_through_every_part_is_seen_at_each_stop_and_leaves_it(keys):
    page = keys.bedside.page
    for part in PARTS:
        keys.goes_to(part)
        goes_through(keys, ".part")
        keys.reaches(page.locator(".part:visible .skip"))


def test_tab_goes_through_the_sheet_of_a_row_and_leaves_it(keys):
    for part, label in SHEETS:
        keys.goes_to(part)
        add = keys.bedside.field(label).get_by_role("button", name=f"Add: {label}")
        keys.taps(add)
        goes_through(keys, "#sheet")
        page = keys.bedside.page
        keys.taps(page.locator("#sheet [data-act='drop-row']"))
        assert page.locator("#sheet").is_hidden()


def test_no_control_has_a_place_of_its_own_in_the_order(keys):
    page = keys.bedside.page
    assert page.locator("[tabindex]:not([tabindex='0'], [tabindex='-1'])").count() == 0
