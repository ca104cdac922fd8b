"""Advance as it runs: a reading in two taps, and nothing that pairs two of them."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta

import pytest
from playwright.sync_api import expect

from tests.support.full_disk import FULL, ROOM_AGAIN
from tests.support.live_advance import BOXES, told_case
from tests.support.looking import audit, clipped, covered, faint, wider_than_screen


@pytest.fixture
def advance(bedside):
    """Advance of an adult, nothing read yet."""
    years = {"as": "77", "n": "77", "unit": "a"}
    return told_case(bedside, estimated_age=years)


def test_nothing_read_is_a_dash_and_a_ruler_without_a_wire(advance):
    expect(advance.page.locator(".adv-depth")).to_contain_text("–")
    expect(advance.page.locator("#rope .rope-wire")).to_have_count(0)
    expect(advance.page.locator("#rope .rope-band")).to_have_count(4)


def test_depth_and_result_are_one_row_in_two_taps(advance):
    advance.taps("depth-15", "result-svc")
    advance.shows("15", "SVC")
    [row] = advance.case.rows(advance.readings)
    value = {name: row["value"][name] for name in row["value"] if name != "moment"}
    assert value == {
        "depth": {"as": "15", "n": "15", "unit": "cm"},
        "read_at": "sheath_hub",
        "guided_by": "intracardiac_ecg",
        "result": "svc",
    }
    assert row["value"]["moment"]["certainty"] == "exact"


# Notes each state of the result keys that is drawn.
PRESSED = """() => {
  window.pressed = [];
  const note = () => window.pressed.push(...[...document.querySelectorAll(
    ".adv-grid > .key[data-result][aria-pressed=true]")].map(({ dataset }) => dataset.result));
  new MutationObserver(note).observe(document.querySelector(".adv-grid"),
    { childList: true, subtree: true, attributes: true });
}"""


def test_the_key_tapped_shows_that_it_was_before_the_reading_is_kept(advance):
    advance.page.evaluate(PRESSED)
    advance.reads(16, "mid_ra", "Mid RA")
    assert set(advance.page.evaluate("window.pressed")) == {"mid_ra"}
    # Kept, it is an entry; the next is told on keys that say nothing.
    key = advance.page.locator(".adv-grid > .key[data-result][aria-pressed]")
    expect(key).to_have_count(0)


def test_a_depth_called_clears_what_was_seen_at_another(advance):
    advance.reads(16, "mid_ra", "Mid RA")
    advance.taps("depth-18")
    advance.shows("18", "…")
    assert advance.kept() == [("16", "mid_ra")]


def test_a_result_before_a_depth_keeps_nothing_and_says_so(advance):
    advance.reads(16, "mid_ra", "Mid RA")
    advance.taps("result-rv_free")
    expect(advance.page.locator(".adv-ask")).to_contain_text("Depth first")
    assert advance.kept() == [("16", "mid_ra")]


def test_a_depth_off_the_lens_takes_four_taps(advance):
    advance.taps("depth-other", "digit-3", "digit-3", "result-rv_free")
    advance.shows("33", "RV free")
    assert advance.kept() == [("33", "rv_free")]


def test_no_key_moves_whatever_is_tapped(advance):
    at = advance.page.evaluate
    before = at(BOXES)
    moved = []
    acts = ("depth-16", "result-mid_ra", "balloon-up", "ectopy-some", "vt_vf")
    for act in (*acts, "resistance", "strike-last"):
        advance.taps(act)
        moved += [act] if at(BOXES) != before else []
    expect(advance.key("keep-after-all")).to_be_visible()
    moved += ["after"] if at(BOXES) != before else []
    assert moved == []


def test_the_last_is_struck_by_name_and_kept_after_all(advance):
    advance.reads(16, "mid_ra", "Mid RA")
    expect(advance.key("strike-last")).to_have_text("Strike 16 cm")
    advance.taps("strike-last")
    expect(advance.page.locator(".adv-list [data-struck]")).to_contain_text("16 cm")
    advance.taps("keep-after-all")
    advance.shows("16", "Mid RA")


def test_a_trembling_hand_strikes_one_reading_only(advance):
    advance.reads(15, "svc", "SVC")
    advance.reads(16, "mid_ra", "Mid RA")
    advance.key("strike-last").dblclick()
    expect(advance.key("strike-last")).to_have_text("Strike 15 cm")
    struck = [row["struck"] is not None for row in advance.case.rows(advance.readings)]
    assert struck == [False, True]


# Puts the receipt's key under a finger, as where a keypad goes that lay over it.
UNDER = """([x, y]) => {
  const key = document.querySelector("#kept .kept-key");
  const { left, top, width, height } = key.getBoundingClientRect();
  key.style.transform = `translate(${x - left - width / 2}px, ${y - top - height / 2}px)`;
  key.style.zIndex = 99;
}"""


def test_a_key_that_comes_under_the_finger_strikes_nothing(advance):
    advance.reads(16, "mid_ra", "Mid RA")
    page = advance.page
    expect(page.locator("#kept .kept-key")).to_be_visible()
    box = advance.key("depth-15").bounding_box()
    place = (box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    page.mouse.click(*place)
    page.evaluate(UNDER, place)
    page.mouse.click(*place)
    expect(page.locator(".adv-depth [data-called]")).to_have_count(1)
    assert [row["struck"] for row in advance.case.rows(advance.readings)] == [None]


def test_a_reading_not_kept_stays_called_until_it_is(advance):
    advance.page.evaluate(FULL)
    advance.taps("depth-16", "result-mid_ra")
    alert = advance.page.get_by_role("alert")
    expect(alert).to_contain_text("NOT kept: 16 cm, Mid RA")
    advance.shows("16", "…")
    advance.page.evaluate(ROOM_AGAIN)
    advance.page.get_by_role("button", name="Try again").click()
    advance.shows("16", "Mid RA")
    assert advance.kept() == [("16", "mid_ra")]


def test_other_guidance_brings_its_own_results_and_is_told(advance):
    advance.taps("ask-guide", "guide-pacing", "depth-16", "result-qrs_captured")
    advance.shows("16", "QRS captured")
    [row] = advance.case.rows(advance.readings)
    assert row["value"]["guided_by"] == "pacing"
    told = advance.case.value(f"wires/{advance.wire}/advance.guided_by")
    assert told == ["intracardiac_ecg", "pacing"]


def test_a_guide_tapped_over_two_answers_settles_neither(advance):
    path = f"wires/{advance.wire}/advance.guided_by"
    advance.case.somebody_else_says(path, ["fluoroscopy"], "Nina Prøve")
    advance.case.reloads()
    advance.taps("ask-guide", "guide-pacing", "depth-16", "result-qrs_captured")
    advance.shows("16", "QRS captured")
    [row] = advance.case.rows(advance.readings)
    assert row["value"]["guided_by"] == "pacing"
    both = sorted(advance.case.value(path))
    assert both == [["fluoroscopy"], ["intracardiac_ecg"]]


def test_without_p_waves_no_atrial_result_is_offered(advance):
    advance.taps("ask-p_waves", "p-waves-none")
    expect(advance.key("result-above_rv")).to_be_visible()
    expect(advance.key("result-mid_ra")).to_have_count(0)


def test_both_states_of_the_balloon_are_kept_and_the_last_is_filled(advance):
    advance.taps("balloon-up")
    expect(advance.key("balloon-up")).to_have_attribute("aria-pressed", "true")
    advance.taps("balloon-down")
    expect(advance.key("balloon-down")).to_have_attribute("aria-pressed", "true")
    assert advance.states("balloon", "state") == ["up", "down"]


def test_the_danger_keys_keep_their_moment_and_say_what_policy_asks(advance):
    advance.taps("vt_vf")
    said = advance.page.locator("#remark-said")
    expect(said).to_contain_text("balloon down, then pull back into the atrium")
    [row] = advance.case.rows(f"wires/{advance.wire}/advance.vt_vf")
    assert "utc" in row["value"]["moment"]


def test_the_rings_travel_with_the_tip_and_say_what_to_see(advance):
    advance.taps("depth-other", "digit-3", "digit-4", "result-rv_contact")
    advance.shows("34", "RV contact")
    words = advance.page.locator("#rope [data-rings]")
    expect(words).to_have_text(["4 rings", "6 cm out"])
    expect(advance.page.locator("#rope [data-ring='4']")).to_have_count(4)


def test_the_line_of_no_change_moves_with_the_chamber_from_the_atrium_on(advance):
    # clinical.md section 3 (b): 15 cm beyond the smallest depth since the last chamber.
    ruler = advance.page.locator("#rope svg")
    advance.reads(14, "svc", "SVC")
    expect(ruler.locator("[data-moving]")).to_have_count(0)
    for depth_cm, result, word, line_cm in (
        (18, "mid_ra", "Mid RA", 33),
        (16, "high_ra", "High RA", 31),
        (25, "rv_free", "RV free", 40),
    ):
        digits = [f"digit-{digit}" for digit in str(depth_cm)]
        advance.taps("depth-other", *digits, f"result-{result}")
        advance.shows(str(depth_cm), word)
        spoken = f"Line at {line_cm} cm: 15 cm beyond where this chamber began"
        expect(ruler).to_have_attribute("aria-label", re.compile(spoken))
        expect(ruler.locator("[data-moving]")).to_have_count(1)


def test_a_child_has_neither_bands_nor_limit(bedside):
    years = {"as": "5", "n": "5", "unit": "a"}
    advance = told_case(bedside, estimated_age=years)
    expect(advance.page.locator("#rope svg")).to_have_count(1)
    drawn = advance.page.locator("#rope .rope-band, #rope .rope-limit")
    expect(drawn).to_have_count(0)


def test_a_reading_is_told_by_keys_alone(advance):
    advance.key("depth-16").press("Enter")
    expect(advance.key("depth-16")).to_be_focused()
    advance.key("result-mid_ra").press("Enter")
    advance.shows("16", "Mid RA")
    assert advance.kept() == [("16", "mid_ra")]


def test_the_depth_is_large_and_within_the_screen(advance):
    advance.reads(16, "mid_ra", "Mid RA")
    sizes = {(800, 1280): 94, (390, 844): 72, (1280, 800): 142}
    found = {}
    for width, height in sizes:
        advance.page.set_viewport_size({"width": width, "height": height})
        found[width, height] = advance.page.evaluate(
            """() => { const panel = document.querySelector("#panel");
              const figure = panel.querySelector(".adv-depth .num b");
              const wider = panel.scrollWidth > panel.clientWidth;
              return wider ? 0 : parseFloat(getComputedStyle(figure).fontSize); }"""
        )
    assert found == sizes


def test_the_live_keys_have_no_finding(advance):
    advance.reads(16, "mid_ra", "Mid RA")
    advance.taps("balloon-up")
    page, found = advance.page, audit(advance.case)
    for width, height in ((390, 844), (800, 1280), (1280, 800)):
        page.set_viewport_size({"width": width, "height": height})
        found += [*wider_than_screen(page), *covered(page), *faint(page)]
        # A phone scrolls within the panel.
        found += clipped(page) if width > 390 else []
    assert found == []


def test_a_depth_that_waited_is_offered_alone_with_the_moment_it_was_called(advance):
    advance.taps("depth-17")
    key = advance.key("keep-alone")
    expect(key).to_be_disabled()
    expect(key).to_have_text("Keep 17 cm alone after 20 s")
    later = datetime.now(UTC) + timedelta(seconds=40)
    advance.page.clock.set_fixed_time(later)
    advance.taps("balloon-up")
    expect(key).to_be_enabled()
    expect(key).to_have_text("Keep 17 cm alone now")
    advance.taps("keep-alone")
    expect(advance.page.locator(".adv-list li")).to_contain_text(["17 cm"])
    [row] = advance.case.rows(advance.readings)
    moment = datetime.fromisoformat(row["value"]["moment"]["utc"])
    assert "result" not in row["value"]
    assert moment < later - timedelta(seconds=20)


def test_a_reading_is_kept_with_its_moment_while_the_server_is_gone(advance, standing):
    advance.case.can_do_without_server()
    standing.stop()
    advance.taps("depth-16", "result-mid_ra")
    advance.shows("16", "Mid RA")
    [row] = advance.case.rows(advance.readings)
    assert "utc" in row["value"]["moment"]
