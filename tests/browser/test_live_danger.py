"""Capture lost and Arrest: one tap from every part, kept at once, the card beside the numbers."""

from datetime import datetime, timedelta

import pytest
from playwright.sync_api import expect

from tests.support.bedside import Bedside
from tests.support.full_disk import FULL, ROOM_AGAIN
from tests.support.looking import SIZES, covered, shows

LOST = "[data-act=capture-lost]"
# Who, what stands, what was kept, and the keys themselves.
FRAME = "#case-strip .who, #stand, #kept, [data-act=capture-lost], .danger-arrest"


@pytest.fixture
def case(bedside):
    """A case just begun."""
    bedside.starts_now()
    return bedside


def rows(case, name):
    """The standing rows whose path ends so."""
    found = case.fold()["rows"]
    return [
        row
        for path, told in found.items()
        if path.endswith(name)
        for row in told
        if not row["struck"]
    ]


def kept(case, words):
    expect(case.page.locator("#kept .kept-said b:visible")).to_contain_text(words)


def test_one_tap_on_capture_lost_is_one_row_with_its_moment_and_the_card(case):
    case.page.locator(LOST).dblclick()
    card = case.page.get_by_role("dialog", name="Capture lost")
    expect(card).to_contain_text("Output to maximum. Rate 80 or more.")
    kept(case, "capture lost")
    (row,) = rows(case, "capture.capture_lost")
    assert row["value"]["card_opened"] == "yes"
    assert row["value"]["moment"]["certainty"] == "exact"


def test_a_loss_stamped_on_a_full_tablet_is_kept_with_its_moment_when_tried_again(case):
    case.page.evaluate(FULL)
    tapped = case.page.evaluate("Date.now()")
    case.page.locator(LOST).click()
    kept(case, "NOT kept: capture lost")
    told = case.page.evaluate("Date.now()")
    case.page.evaluate(ROOM_AGAIN)
    case.page.locator("#kept [data-act=again]").click()
    kept(case, "capture lost")
    expect(case.page.locator("#kept [role=alert]")).to_be_hidden()
    (row,) = rows(case, "capture.capture_lost")
    at = datetime.fromisoformat(row["value"]["moment"]["utc"]).timestamp() * 1000
    assert tapped - 1000 <= at <= told
    assert len(rows(case, "wires")) == 1


@pytest.mark.parametrize("size", SIZES)
def test_the_card_covers_neither_who_nor_what_stands_nor_the_keys(case, size):
    width, height = SIZES[size]
    case.page.set_viewport_size({"width": width, "height": height})
    case.page.locator(LOST).click()
    expect(case.page.locator("#card [data-act=capture-back]")).to_be_visible()
    hidden = case.page.locator(FRAME).evaluate_all(
        """all => all.filter((one) => {
          const box = one.getBoundingClientRect();
          return !document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2)?.closest(
            "#case-strip, #stand, #kept, #danger");
        }).map((one) => one.id || one.className)"""
    )
    found = covered(case.page)
    case.page.set_viewport_size({"width": 1280, "height": 800})
    assert hidden == []
    assert found == []


def test_capture_lost_is_no_test_reading_and_can_be_struck_with_its_card(case):
    case.page.locator(LOST).click()
    kept(case, "capture lost")
    assert rows(case, "output_reading") == []
    case.page.get_by_role("button", name="Strike capture lost").click()
    expect(case.page.locator("#card")).to_be_hidden()
    assert rows(case, "capture_lost") == []


def test_a_loss_of_a_finished_case_belongs_to_the_pacing_checks(case):
    shows(case, "finish")
    case.page.locator("[data-act=finish]").click()
    kept(case, "Case finished")
    case.page.locator(LOST).click()
    kept(case, "capture lost")
    assert len(rows(case, "checks.capture_lost")) == 1


def test_capture_back_is_stamped_on_the_card_that_can_be_opened_again(case):
    case.page.locator(LOST).click()
    case.page.locator("#card [data-act=card-close]").click()
    case.page.locator("[data-act=card]").click()
    case.page.locator("#card [data-act=capture-back]").click()
    case.page.locator("#card [data-act=what-brought]").click()
    expect(case.page.get_by_role("dialog", name="Capture back")).to_be_visible()
    (loss,) = rows(case, "capture.capture_lost")
    (back,) = rows(case, "capture.capture_regained")
    assert back["value"]["of"] == loss["id"]


def test_a_trembling_second_tap_on_arrest_is_no_pulse_back(case):
    case.page.locator(".danger-arrest").dblclick()
    kept(case, "no pulse")
    expect(case.page.locator(".danger-arrest")).to_have_text("Pulse back")
    assert rows(case, "indication.pulse_back") == []


def test_an_arrest_outlives_a_killed_browser_and_its_minutes_run_to_the_pulse_back(
    browser, standing
):
    case = Bedside(browser, standing.url)
    case.starts_now()
    case.page.locator(".danger-arrest").click()
    kept(case, "no pulse")
    case.page.locator(LOST).click()
    kept(case, "capture lost")
    (arrest,) = rows(case, "indication.arrest")
    lost = datetime.fromisoformat(arrest["value"]["pulse_lost"]["utc"])
    address = case.page.url
    browser.kill()
    page = browser.opens("about:blank")
    page.clock.set_fixed_time(lost + timedelta(minutes=3))
    page.goto(address)
    case.page = page
    expect(page.locator("#stand .stand-arrest")).to_contain_text("no pulse 3 min")
    expect(page.locator("[data-act=card]")).to_be_visible()
    page.locator(".danger-arrest").click()
    kept(case, "pulse back after 3 min")
    expect(page.locator("#stand .stand-arrest")).to_have_count(0)
    (back,) = rows(case, "indication.pulse_back")
    assert back["value"]["of"] == arrest["id"]
