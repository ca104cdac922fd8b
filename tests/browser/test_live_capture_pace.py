"""Capture's pacing rate, its held dial, and words that fit what was found."""

import re

import pytest
from playwright.sync_api import expect

from tests.support.live_capture import Live, begin_reliable

# Every value that the dial shows, as it is drawn.
_WATCH = """() => {
  window.seen = [];
  const value = () => document.querySelector("[data-act=dial-confirm] .spoken").textContent;
  const note = () => seen.push(value().split("\u00a0")[0]);
  new MutationObserver(note).observe(document.querySelector("[data-area=dial]"), { childList: true, subtree: true });
}"""


@pytest.fixture
def reliable(bedside):
    """A patient with an own rhythm of 48, the generator left at 10 mA."""
    return begin_reliable(bedside)


def remarked(live, awaited=""):
    """The codes of what is remarked on the case, as the list of remarks shows them.

    `awaited`: one that comes, once the page has nothing else to do.
    """
    live.page.locator("[data-act=remarks]:visible").click()
    sheet = live.page.locator("#who-sheet")
    if awaited:
        expect(sheet.locator(f".remark[data-code='{awaited}']")).to_have_count(1)
    codes = sheet.locator(".remark[data-code]").evaluate_all(
        "(all) => all.map((one) => one.dataset.code)"
    )
    sheet.locator(".sheet-keys .key").click()
    expect(sheet).to_be_hidden()
    return codes


def test_a_rate_that_was_called_goes_with_the_test_and_its_readings(reliable):
    expect(reliable.key("pace")).to_contain_text("not said")
    reliable.keys_over("pace", "88")
    expect(reliable.key("pace")).to_contain_text("88\u00a0/min")
    expect(reliable.key("pace")).to_be_focused()
    reliable.reads("captures")
    (test,), (reading,) = reliable.rows("capture.threshold_test"), reliable.readings()
    said = {"as": "88", "n": "88", "unit": "/min"}
    assert test["value"]["rate"] == said
    assert reading["value"]["rate"] == said
    assert "rate_unsaid" not in remarked(reliable)


def test_a_rate_that_nobody_said_is_no_part_of_a_reading_and_is_asked_for(reliable):
    reliable.reads("captures")
    (test,), (reading,) = reliable.rows("capture.threshold_test"), reliable.readings()
    assert "rate" not in test["value"]
    assert "rate" not in reading["value"]
    assert "rate_unsaid" in remarked(reliable, awaited="rate_unsaid")


def test_a_rate_said_for_the_test_is_still_its_own_after_a_restart(reliable):
    reliable.keys_over("pace", "80")
    reliable.reads("captures")
    reliable.case.reloads()
    reliable.opens()
    expect(reliable.key("pace")).to_contain_text("80\u00a0/min")
    reliable.reads("captures")
    assert [row["value"]["rate"]["n"] for row in reliable.readings()] == ["80", "80"]


def test_the_rate_left_before_is_offered_by_name_and_never_filled_in(bedside):
    live = Live(bedside)
    live.reads_back("5", ("rate", "75"))
    live.taps_on("keep-read")
    expect(live.key("pace")).to_contain_text("not said")
    live.taps_on("pace")
    expect(live.panel.locator(".cap-seen-key")).to_contain_text("left at before")
    live.taps_on("seen-75")
    expect(live.key("pace")).to_contain_text("75\u00a0/min")


def test_a_loss_that_was_found_is_not_called_not_sought(bedside):
    live = Live(bedside)
    live.reads_back("5")
    live.taps_on("keep-read")
    line = live.panel.locator(".cap-test")
    expect(line).to_contain_text("loss not sought")
    live.reads("captures")
    live.reads("no_capture")
    expect(line).to_contain_text("loss found")
    expect(live.panel).not_to_contain_text(re.compile("loss not sought", re.IGNORECASE))


def test_a_full_test_says_what_its_key_opens(bedside):
    live = Live(bedside)
    key = live.key("test-kind")
    expect(key).to_have_text("Full test: pads, doctor")
    live.taps_on("test-kind")
    sheet = live.page.locator("#sheet")
    expect(sheet.locator("[data-child=pads_ready]")).to_be_visible()
    expect(sheet.locator("[data-child=doctor_present]")).to_be_visible()
    sheet.locator("[data-act=drop-row]").click()


def test_the_same_figure_twice_at_once_is_twice(reliable):
    reliable.taps_on("pace")
    reliable.panel.locator(".cap-pad").evaluate(
        """(pad) => ["1", "1", "0"].forEach((name) =>
          pad.querySelector(`[data-key='${name}']`).dispatchEvent(new MouseEvent(
            "click", { bubbles: true, cancelable: true, detail: 1 })))"""
    )
    reliable.taps_on("pad-done")
    expect(reliable.key("pace")).to_contain_text("110\u00a0/min")


def test_a_held_key_leads_on_by_steps_then_halves_and_confirms_nothing(reliable):
    reliable.page.evaluate(_WATCH)
    reliable.taps_on("dial-confirm")
    reliable.key("dial-down").hover()
    reliable.page.mouse.down()
    reliable.case.waits_for("window.seen.includes('5.5')")
    reliable.page.mouse.up()
    values = list(dict.fromkeys(reliable.page.evaluate("seen")))
    assert values[: values.index("5.5") + 1] == [
        *("6.7", "6.6", "6.5", "6.4", "6.3", "6.2"),
        *("6.0", "5.5"),
    ]
    expect(reliable.key("dial-confirm")).to_have_attribute("aria-pressed", "false")
    # Let go, it leads no further: the next tap goes on from where it ended.
    ended = reliable.called()
    reliable.taps_on("dial-up")
    expect(reliable.key("dial-down")).to_contain_text(ended)
    assert reliable.readings() == []


def test_a_key_held_by_a_finger_that_trembles_leads_on(reliable):
    reliable.page.evaluate(_WATCH)
    box = reliable.key("dial-down").locator("b").bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    session = reliable.page.context.new_cdp_session(reliable.page)

    def finger(kind, *places):
        points = [{"x": x, "y": y} for x, y in places]
        session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    finger("touchStart", (x, y))
    finger("touchMove", (x + 1, y))
    reliable.case.waits_for("window.seen.includes('6.6')")
    finger("touchMove", (x + 2, y + 1))
    reliable.case.waits_for("window.seen.includes('6.4')")
    finger("touchEnd")
    assert reliable.readings() == []
