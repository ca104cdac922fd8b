"""Capture between the goes: what nobody called, what another test found, what was kept."""

import re

import pytest
from playwright.sync_api import expect

from tests.support.live_capture import Live, begin_reliable
from tests.support.tablet_database import HOLD_ENTRIES


@pytest.fixture
def reliable(bedside):
    """A patient with an own rhythm, the generator left at 10 mA."""
    return begin_reliable(bedside)


def found_at_3(live):
    """A full test to its end: captures at 3.0, lost at 2.0."""
    for result in (*["captures"] * 3, "no_capture"):
        live.reads(result)


def threshold(live):
    return live.panel.locator(".cap-numbers .panel-block").first


def test_a_number_nobody_called_looks_like_none(reliable):
    dial = reliable.key("dial-confirm")
    ink = "(key) => getComputedStyle(key.querySelector('.cap-called b, .cap-called .num')).color"
    expect(dial).to_have_attribute("data-offered", "")
    offered = dial.evaluate(ink)
    reliable.taps_on("dial-up")
    expect(dial).not_to_have_attribute("data-offered", "")
    assert dial.evaluate(ink) != offered
    reliable.taps_on("dial-confirm")
    expect(dial).not_to_have_attribute("data-offered", "")
    reliable.taps_on("captures")
    expect(dial).to_have_attribute("data-offered", "")


def test_while_another_test_is_read_the_threshold_says_it_is_of_the_one_before(
    reliable,
):
    found_at_3(reliable)
    expect(threshold(reliable)).not_to_contain_text("test before")
    reliable.reads_back("7", ("rate", "80"), ("sensitivity", "2"))
    reliable.taps_on("keep-read")
    reliable.taps = 0
    expect(reliable.panel.locator(".cap-test")).to_contain_text("Test 2")
    expect(threshold(reliable)).not_to_contain_text("test before")
    reliable.reads("captures")
    expect(threshold(reliable).locator(".spoken")).to_contain_text("3.0\u00a0")
    expect(threshold(reliable)).to_contain_text("test before")


def test_a_full_test_that_is_still_read_has_not_left_its_loss_unsought(reliable):
    reliable.reads("captures")
    expect(threshold(reliable)).to_contain_text("at most, no loss yet")
    reliable.reads_back("7", ("rate", "80"), ("sensitivity", "2"))
    reliable.taps_on("keep-read")
    expect(threshold(reliable)).to_contain_text("at most, loss not sought")


def test_what_was_read_back_in_another_go_stands_as_kept(reliable):
    reliable.reads("captures")
    output, rate = reliable.key("read-output"), reliable.key("read-rate")
    expect(output).to_have_text(re.compile("–$"))
    reliable.reads_back("7")
    reliable.taps_on("keep-read")
    expect(output).to_have_text(re.compile("7\\.0$"))
    expect(output).to_have_attribute("data-kept", "")
    expect(output).to_have_accessible_name(re.compile(": 7\\.0, kept$"))
    expect(rate).to_have_text(re.compile("–$"))
    reliable.keys_over("read-rate", "80")
    expect(rate).to_have_text(re.compile("80$"))
    expect(rate).not_to_have_attribute("data-kept", "")
    expect(output).to_have_attribute("data-kept", "")
    reliable.taps_on("keep-read")
    expect(rate).to_have_attribute("data-kept", "")
    # Only what a hand read in its go is in its row.
    rows = [row["value"] for row in reliable.rows("capture.dial_left_at")]
    assert [sorted({"output", "rate"} & set(row)) for row in rows[1:]] == [
        ["output"],
        ["rate"],
    ]
    # The test goes on: nothing of before stands as read since.
    reliable.reads("captures")
    expect(output).to_have_text(re.compile("–$"))
    expect(rate).to_have_text(re.compile("–$"))


def test_the_key_of_a_full_test_opens_its_form_with_that_said(bedside):
    live = Live(bedside)
    live.reads_back("5")
    live.taps_on("keep-read")
    expect(live.key("test-kind")).to_have_text("Full test: pads, doctor")
    live.taps_on("test-kind")
    sheet = live.page.locator("#sheet")
    kind = sheet.locator('[data-child="kind"]')
    expect(kind.locator('input[value="full"]')).to_be_checked()
    # A key's word alone begins nothing.
    live.page.keyboard.press("Escape")
    expect(sheet).to_be_hidden()
    live.case.reloads()
    expect(live.page.locator("#panel")).to_be_visible()
    expect(sheet).to_be_hidden()


def test_after_a_loss_the_line_leads_up_before_anything_else(reliable):
    line = reliable.panel.locator(".cap-next")
    reliable.reads("captures")
    reliable.reads("no_capture")
    expect(line).to_have_text("No capture at 4.5: go up, next 6.7.")
    reliable.taps_on("dial-confirm")
    expect(line).to_have_text("Now the result, from monitor and pulse.")
    reliable.taps_on("captures")
    expect(line).to_have_text("threshold found, test ends")


def test_while_a_reading_is_kept_the_dial_says_why_it_takes_no_tap(reliable):
    dial = reliable.key("dial-confirm")
    reliable.page.evaluate(HOLD_ENTRIES)
    reliable.taps_on("dial-confirm", "captures")
    expect(dial).to_contain_text("reading is being kept")
    expect(dial).to_have_attribute("aria-disabled", "true")
    reliable.taps_in_vain("dial-confirm")
    expect(dial).to_have_attribute("aria-pressed", "false")
    reliable.page.evaluate("release()")
    reliable.offers("4.5")
    expect(dial).not_to_have_attribute("aria-disabled", "true")
    expect(dial).to_contain_text("tap when the generator reads")
