"""What the hand holds in Capture: never another unit's, never lost on the way."""

import re

import pytest
from playwright.sync_api import expect

from tests.support.full_disk import FULL, ROOM_AGAIN
from tests.support.live_capture import begin_reliable
from tests.support.told_here import Told

VOLTS = {"output_kind": "voltage", "output_dial": "0.1 to 10 by 0.1"}
SIGNS = "capture.mechanical_capture"
FULL_AFTER_ONE_ENTRY = """() => {
  const { prototype } = IDBDatabase;
  window.whole = prototype.transaction;
  let kept = 0;
  prototype.transaction = function (stores, mode, options) {
    if (mode === "readwrite" && stores.includes("entries") && (kept += 1) > 1)
      throw new DOMException("", "QuotaExceededError");
    return window.whole.call(this, stores, mode, options);
  };
}"""


@pytest.fixture
def reliable(bedside):
    """A patient with an own rhythm, the generator left at 10 mA."""
    return begin_reliable(bedside)


def arrives(live, group, row):
    """A row of the wire told by somebody else while this screen is open."""
    told = Told()
    told.adds("", f"wires/{live.case.rows('wires')[0]['id']}/{group}", row)
    told.put(live.page, live.case.record)


def test_a_confirmation_is_not_carried_to_a_generator_in_another_unit(reliable):
    reliable.taps_on("dial-confirm")
    expect(reliable.key("dial-confirm")).to_have_attribute("aria-pressed", "true")
    arrives(reliable, "capture.generator", VOLTS)
    expect(reliable.key("dial-confirm")).to_have_attribute("aria-pressed", "false")
    expect(reliable.key("dial-confirm")).to_have_text(re.compile("–"))
    reliable.taps_in_vain("captures")
    assert reliable.readings() == []


def test_a_number_in_another_unit_is_not_offered_to_be_called(reliable):
    arrives(reliable, "capture.generator", VOLTS)
    expect(reliable.key("read-output_v")).to_be_visible()
    reliable.taps_on("other-output")
    expect(reliable.panel.locator(".cap-typed .num-unit")).to_have_text("V")
    expect(reliable.panel.locator(".cap-seen-key")).to_have_count(0)
    reliable.taps_on("over-close")


def test_a_test_in_milliamperes_offers_nothing_in_volts(reliable):
    reliable.reads("captures")
    arrives(reliable, "capture.generator", VOLTS)
    expect(reliable.panel.locator(".cap-test")).to_contain_text("Test 2")
    expect(reliable.key("dial-confirm")).to_have_text(re.compile("–"))


def test_a_value_that_did_not_capture_is_not_offered_as_what_was_left(reliable):
    reliable.reads("captures")
    reliable.taps_on("read-output")
    expect(reliable.panel.locator(".cap-seen-key")).to_contain_text(["called last"])
    reliable.taps_on("over-close")
    # Nobody called the next value: it is only offered.
    key = reliable.key("dial-confirm")
    expect(key).to_contain_text("next value, not called yet")
    reliable.taps_on("dial-down")
    expect(key).to_contain_text("dial called, not confirmed")
    reliable.reads("no_capture")
    reliable.taps_on("read-output")
    expect(reliable.panel.locator(".cap-pad")).to_be_visible()
    expect(reliable.panel.locator(".cap-seen-key", has_text="last")).to_have_count(0)
    reliable.taps_on("over-close")


def test_the_stair_shows_the_open_test(reliable):
    reliable.reads("captures")
    reliable.reads("no_capture")
    reliable.reads_back("7", ("rate", "80"), ("sensitivity", "2"))
    reliable.taps_on("keep-read")
    expect(reliable.panel.locator(".cap-test")).to_contain_text("Test 2")
    told = reliable.called()
    reliable.reads("captures")
    stair = reliable.panel.locator("[data-chart=stair] svg[role=img]")
    expect(stair).to_have_attribute(
        "aria-label", f"1 output readings: {told} mA captures", ignore_case=True
    )


def test_an_old_output_keeps_its_age_beside_a_newer_rate(reliable):
    utc = "2026-01-01T10:00:00.000Z"
    moment = {"utc": utc, "zone": "UTC", "offset_min": 0, "certainty": "exact"}
    (left,) = reliable.rows("capture.dial_left_at")
    wire = reliable.case.rows("wires")[0]["id"]
    told = Told()
    told.strikes("", f"wires/{wire}/capture.dial_left_at", left["id"])
    told.put(reliable.page, reliable.case.record)
    five = {"as": "5", "n": "5", "unit": "mA"}
    arrives(
        reliable,
        "capture.dial_left_at",
        {"moment": {**moment, "clock": "tablet"}, "output": five},
    )
    stand = reliable.page.locator("#stand .stand-cell", has_text="Generator")
    expect(stand).to_contain_text("5.0 mA")
    old = stand.locator("small").inner_text()
    reliable.keys_over("read-rate", "80")
    reliable.taps_on("keep-read")
    expect(stand).to_contain_text("80")
    expect(stand).to_contain_text("5.0 mA")
    expect(stand.locator("small")).to_have_text(old)


def test_a_number_in_hand_outlives_a_row_of_somebody_else(reliable):
    reliable.keys_over("read-rate", "80")
    arrives(reliable, "capture.dial_left_at", {"mode": "vvi"})
    reliable.case.waits_for(
        "document.querySelector('#stand').textContent.includes('VVI')"
    )
    expect(reliable.key("read-rate")).to_contain_text("80")
    reliable.taps_on("keep-read")
    expect(reliable.page.locator("#stand")).to_contain_text("80")
    assert reliable.rows("capture.dial_left_at")[-1]["value"]["rate"]["n"] == "80"


def test_a_number_kept_on_the_sheet_of_its_row_is_in_hand_no_more(reliable):
    reliable.keys_over("read-rate", "80")
    wire = reliable.case.rows("wires")[0]["id"]
    reliable.page.evaluate(
        """async ([record, path]) => {
          const { openStore } = await import("/static/js/log/store.js");
          const store = await openStore();
          const author = { person: null, name: "K. Ouse-Example", role: "nurse" };
          const value = { rate: { as: "80", n: "80", unit: "/min" } };
          await store.append(record, { path, op: "add", value, author, clears: `${path}#row` });
          store.close();
        }""",
        [reliable.case.record, f"wires/{wire}/capture.dial_left_at"],
    )
    expect(reliable.key("keep-read")).to_have_attribute("data-none", "")


def test_a_number_read_while_another_is_not_kept_stays_in_hand(reliable):
    reliable.keys_over("read-rate", "80")
    reliable.page.evaluate(FULL)
    # In one breath: the first is still being written when the second is read.
    reliable.page.evaluate(
        """() => ["[data-act=keep-read]", "[data-act=read-sensitivity]",
          "[data-key='2']", "[data-act=pad-done]"]
          .forEach((css) => document.querySelector(`#panel ${css}`).click())"""
    )
    expect(reliable.page.get_by_role("alert")).to_contain_text("NOT kept")
    reliable.page.evaluate(ROOM_AGAIN)
    expect(reliable.key("read-rate")).to_contain_text("80")
    expect(reliable.key("read-sensitivity")).to_contain_text("2")


def test_a_reading_not_kept_leaves_no_empty_test_beside_its_own(reliable):
    reliable.reads("captures")
    reliable.taps_on("test-kind")
    reliable.page.evaluate(FULL_AFTER_ONE_ENTRY)
    reliable.taps_on("dial-confirm", "captures")
    expect(reliable.page.get_by_role("alert")).to_contain_text("NOT kept")
    reliable.page.evaluate(ROOM_AGAIN)
    expect(reliable.panel.locator(".cap-test")).to_contain_text("Test 2")
    reliable.reads("captures")
    assert len(reliable.rows("capture.threshold_test")) == 2


def test_where_its_test_was_not_kept_the_dial_stays_read_and_the_result_is_told_again(
    reliable,
):
    reliable.taps_on("dial-confirm")
    reliable.page.evaluate(FULL)
    reliable.taps_on("captures")
    expect(reliable.page.get_by_role("alert")).to_contain_text("NOT kept")
    reliable.page.evaluate(ROOM_AGAIN)
    expect(reliable.key("dial-confirm")).to_have_attribute("aria-pressed", "true")
    reliable.taps_on("captures")
    expect(reliable.key("dial-confirm")).to_have_attribute("aria-pressed", "false")
    [test] = reliable.rows("capture.threshold_test")
    [reading] = reliable.rows("capture.output_reading")
    assert reading["value"]["of"] == test["id"]


def test_two_quick_signs_of_a_pulse_are_both_kept(reliable):
    reliable.taps_on("pulse")
    one, two = (
        key.get_attribute("data-act").removeprefix("sign-")
        for key in reliable.panel.locator("[data-act^=sign-]").all()[:2]
    )
    reliable.page.evaluate(
        """(names) => names.forEach((name) =>
          document.querySelector(`[data-act="sign-${name}"]`).click())""",
        [one, two],
    )
    wire = reliable.case.rows("wires")[0]["id"]
    reliable.case.keeps(f"wires/{wire}/{SIGNS}", [one, two])
    reliable.taps_on("over-close")


def test_a_tap_on_a_sign_settles_no_two_answers(reliable):
    reliable.taps_on("pulse")
    one, two = (
        key.get_attribute("data-act").removeprefix("sign-")
        for key in reliable.panel.locator("[data-act^=sign-]").all()[:2]
    )
    path = f"wires/{reliable.case.rows('wires')[0]['id']}/{SIGNS}"
    reliable.case.somebody_else_says(path, [one], "K. Ouse-Example")
    reliable.case.somebody_else_says(path, [two], "A. Tarn-Example")
    reliable.case.reloads()
    reliable.opens()
    reliable.taps_on("pulse", f"sign-{one}")
    expect(reliable.page.locator("#work")).to_have_attribute("data-view", "fields")
    assert reliable.case.value(path) == [[one], [two]]
