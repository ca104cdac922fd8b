"""Capture as it runs: the dial before the result, a test in few taps, settings read back."""

import pytest
from playwright.sync_api import expect

from tests.support import looking
from tests.support.live_capture import Live, begin_reliable
from tests.support.told_here import Told


@pytest.fixture
def reliable(bedside):
    """A patient with an own rhythm, the generator left at 10 mA."""
    return begin_reliable(bedside)


def test_a_result_before_the_dial_was_read_keeps_nothing_and_says_why(reliable):
    reliable.taps_in_vain("captures")
    expect(reliable.panel.locator(".cap-next")).to_have_text(
        "First tap what the generator reads."
    )
    assert reliable.readings() == []


def test_another_value_takes_the_confirmation_back(reliable):
    reliable.taps_on("dial-confirm")
    expect(reliable.key("captures")).not_to_have_attribute("aria-disabled", "true")
    reliable.taps_on("dial-up")
    reliable.offers("6.8")
    expect(reliable.key("captures")).to_have_attribute("aria-disabled", "true")
    reliable.taps_in_vain("no_capture")
    assert reliable.readings() == []


def test_a_reading_takes_two_taps_and_nothing_moves(reliable):
    before = reliable.boxes()
    reliable.reads("captures")
    assert reliable.taps == 2
    assert reliable.readings()[0]["value"]["output"]["n"] == "6.7"
    reliable.offers("4.5")
    assert reliable.boxes() == before


def test_a_whole_test_is_read_in_at_most_24_taps(reliable):
    told = []
    for result in (*["captures"] * 8, "no_capture", "captures"):
        told.append(reliable.called())
        reliable.reads(result)
    assert told == [
        "6.7",
        "4.5",
        "3.0",
        "2.0",
        "1.8",
        "1.6",
        "1.4",
        "1.2",
        "1.0",
        "1.2",
    ]
    assert reliable.taps <= 24
    threshold, asks = reliable.panel.locator(".cap-numbers .panel-block").all()
    expect(threshold).to_contain_text("no capture at 1.0")
    expect(threshold.locator(".spoken")).to_contain_text("1.2\u00a0")
    expect(asks.locator(".spoken")).to_contain_text("3.0\u00a0")
    expect(asks).to_have_attribute("data-not-yet", "")
    # Found: nobody is asked for a second loss.
    expect(reliable.panel.locator(".cap-next")).to_contain_text("test ends")
    assert len(reliable.rows("capture.threshold_test")) == 1
    assert {row["value"]["of"] for row in reliable.readings()} == {
        reliable.rows("capture.threshold_test")[0]["id"]
    }
    # Nothing computed stands as a setting: only what was read back at the start.
    assert len(reliable.rows("capture.dial_left_at")) == 1


def test_after_a_loss_the_value_offered_only_rises(reliable):
    reliable.reads("captures")
    reliable.reads("no_capture")
    reliable.offers("6.7")


def test_settings_read_back_one_number_a_key_end_the_test(reliable):
    reliable.reads("captures")
    stand = reliable.page.locator("#stand")
    expect(stand).to_contain_text("TEST SETTINGS 6.7 mA")
    reliable.case.reloads()
    reliable.opens()
    expect(stand).to_contain_text("TEST SETTINGS 6.7 mA")
    reliable.taps = 0
    reliable.reads_back("7", ("rate", "80"), ("sensitivity", "2"))
    assert len(reliable.rows("capture.dial_left_at")) == 1
    expect(stand).to_contain_text("TEST SETTINGS")
    reliable.taps_on("read-mode", "mode-vvi")
    expect(stand).not_to_contain_text("TEST SETTINGS")
    last = reliable.rows("capture.dial_left_at")[-1]["value"]
    assert {last[name]["n"] for name in ("output", "rate", "sensitivity")} == {
        "7",
        "80",
        "2",
    }
    assert last["mode"] == "vvi"
    expect(reliable.panel.locator(".cap-test")).to_contain_text("Test 2")


def test_a_dependent_patient_is_offered_the_margin_alone_in_six_taps(bedside):
    live = Live(bedside)
    live.reads_back("5")
    live.taps_on("keep-read")
    live.taps = 0
    expect(live.panel.locator(".cap-test")).to_contain_text("loss not sought")
    live.offers("3.4")
    live.reads("captures")
    live.offers("2.5")
    live.reads("captures")
    assert live.taps <= 6
    expect(live.panel.locator(".cap-next")).to_contain_text("margin shown")
    expect(live.panel.locator(".cap-numbers")).to_contain_text("loss not sought")
    assert live.rows("capture.threshold_test")[0]["value"]["kind"] == "margin_shown"


def test_the_last_reading_is_struck_with_one_tap_by_its_name(reliable):
    reliable.reads("no_capture")
    expect(reliable.key("strike-last")).to_have_text("Strike 6.7 mA no capture")
    reliable.taps_on("strike-last")
    expect(reliable.key("strike-last")).to_have_text("No reading to strike")
    assert reliable.readings()[0]["struck"]


def test_the_wiring_is_answered_a_tap_a_line(reliable):
    reliable.taps_on("wiring", "atrial_output_zero-yes", "ventricular_port-yes")
    wire = reliable.case.rows("wires")[0]["id"]
    reliable.case.keeps(f"wires/{wire}/capture.atrial_output_zero", "yes")
    reliable.case.keeps(f"wires/{wire}/capture.ventricular_port", "yes")
    reliable.taps_on("over-close")
    expect(reliable.key("wiring").locator("span span").first).to_have_text(
        "Tip to negative"
    )


def test_settings_of_a_test_weigh_look_now_after_a_minute(bedside):
    """A test begun 61 s ago by another hand, `test_banner_alarm_s` being 60."""
    live = Live(bedside)
    live.keys_over("other-output", "5")
    live.taps_on("captures")
    cell = live.page.locator("#stand .stand-test")
    expect(cell).to_have_attribute("data-weight", "look_again")
    ms = live.page.evaluate("Date.now()")
    live.page.evaluate(
        """async ([record, ms]) => {
          const { openStore } = await import("/static/js/log/store.js");
          const { exactMoment } = await import("/static/js/log/clock.js");
          const store = await openStore();
          const fold = await store.fold(record);
          const path = `wires/${fold.rows.wires[0].id}/capture.threshold_test`;
          const author = { person: null, name: "K. Ouse-Example", role: "nurse" };
          const value = { moment: exactMoment(ms - 61_000, "Europe/Oslo"), kind: "full" };
          await store.append(record, { path, op: "add", value, author });
          store.close();
        }""",
        [live.case.record, ms],
    )
    live.case.reloads()
    expect(cell).to_have_attribute("data-weight", "look_now")


def test_a_generator_in_volts_is_called_and_kept_in_volts(bedside):
    live = Live(bedside)
    live.keys_over("read-rate", "80")
    live.taps_on("keep-read")
    wire = live.case.rows("wires")[0]["id"]
    told = Told()
    volts = {"output_kind": "voltage", "output_dial": "0.1 to 10 by 0.1"}
    told.adds("", f"wires/{wire}/capture.generator", volts)
    told.put(live.page, live.case.record)
    live.case.reloads()
    live.opens()
    live.keys_over("other-output", "5")
    expect(live.key("dial-confirm").locator(".num-unit")).to_have_text("V")
    live.taps_on("no_capture")
    expect(live.key("strike-last")).to_contain_text("Strike 5 V no capture")
    (row,) = live.readings()
    assert row["value"]["output_v"]["n"] == "5"
    assert "output" not in row["value"]


def scrolls_there(page, found):
    """On a phone the panel scrolls: what lies below its edge is not cut."""
    return page.viewport_size["width"] < 600 and "out of panel" in found


def test_without_an_own_rhythm_sensing_is_left_out_with_its_reason_in_one_tap(bedside):
    live = Live(bedside, ("indication.own_rhythm", {"result": "none"}))
    live.reads_back("5")
    live.taps_on("keep-read")
    expect(live.key("sensing-test")).to_have_text("No rhythm to sense")
    live.taps_on("sensing-test")
    wire = live.case.rows("wires")[0]["id"]
    left_out = {"absent": "not_done", "because": "no rhythm to sense"}
    live.case.keeps(f"wires/{wire}/capture.sensing_test", left_out)


def test_a_number_is_keyed_and_kept_by_keys_alone(reliable):
    reliable.key("other-output").press("Enter")
    for key in ("4", ",", "2", "Enter"):
        reliable.page.keyboard.press(key)
    reliable.offers("4.2")
    expect(reliable.key("dial-confirm")).to_be_focused()
    expect(reliable.key("captures")).not_to_have_attribute("aria-disabled", "true")


SIZES = [(1280, 800), (800, 1280), (390, 844)]


@pytest.fixture(params=SIZES, ids=["tablet", "upright", "phone"])
def sized(reliable, request):
    """Capture with readings, at one size; afterwards a tablet again."""
    reliable.reads("captures")
    width, height = request.param
    reliable.page.set_viewport_size({"width": width, "height": height})
    reliable.case.waits_for(f"innerWidth === {width}")
    yield reliable
    reliable.page.set_viewport_size({"width": 1280, "height": 800})


def test_every_key_is_large_and_opposites_lie_apart(sized):
    boxes = sized.boxes()
    assert [a for a, (_, _, w, h) in boxes.items() if min(w, h) < 63.5] == []
    yes, no = boxes["captures"], boxes["no_capture"]
    assert no[0] - (yes[0] + yes[2]) >= 24
    sizes = sized.panel.locator(
        ".cap-called b, .cap-numbers .panel-number b"
    ).evaluate_all("(all) => all.map((b) => parseFloat(getComputedStyle(b).fontSize))")
    least = {1280: (96, 96), 800: (90, 90), 390: (72, 48)}
    logged, others = least[sized.page.viewport_size["width"]]
    assert max(sizes) >= logged
    assert min(sizes) >= others


@pytest.mark.parametrize("theme", ["night", "day"])
def test_the_live_screen_has_no_finding(sized, theme):
    page = sized.page
    page.evaluate("(t) => { document.documentElement.dataset.theme = t; }", theme)
    width, found = page.viewport_size["width"], {}
    # On a phone what lies over the panel covers the receipt for as long as it is open.
    for over in ("", "wiring", "other-output", "read-mode", "pulse"):
        if over:
            sized.taps_on(over)
        found[over] = [
            *looking.wider_than_screen(page),
            *[one for one in looking.clipped(page) if not scrolls_there(page, one)],
            *(looking.covered(page) if not over or width > 600 else []),
            *looking.faint(page),
            *(looking.audit(sized.case) if over in ("", "wiring") else []),
        ]
        if over:
            sized.taps_on("over-close")
    page.evaluate("document.documentElement.dataset.theme = 'night'")
    assert {over: told for over, told in found.items() if told} == {}
