"""The live screens where colours are forced, motion is unwanted or all is twice as large.

Every state is told by word or shape, every rim is there, nothing lies over a text.
"""

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest
from playwright.sync_api import expect

from tests.support.looking import (
    SIZES,
    SMALL_SIZES,
    audit,
    clipped,
    covered,
    faint,
    wider_than_screen,
)
from tests.support.overlaid import crossing, plated
from tests.support.told_here import of_file

NOW = datetime(2026, 5, 14, 10, 50, tzinfo=ZoneInfo("America/Chicago"))
READING = "capture.output_reading"
ALL_SIZES = {**SIZES, "1024": SMALL_SIZES["1024"], "200 %": (640, 400)}
_MOVES = """() => [...document.querySelectorAll("*")].filter((node) => {
  const { transitionDuration, animationName, animationDuration, scrollBehavior } = getComputedStyle(node);
  const lasts = (told) => told.split(",").some((one) => parseFloat(one) > 0);
  return lasts(transitionDuration) || (animationName !== "none" && lasts(animationDuration)) || scrollBehavior === "smooth";
}).map((node) => node.className)"""
_LIGHTNESS = """(selectors) => selectors.map((selector) => {
  const paint = document.createElement("canvas").getContext("2d");
  for (const at of [document.body, document.querySelector(selector)]) {
    paint.fillStyle = getComputedStyle(at).backgroundColor;
    paint.fillRect(0, 0, 1, 1);
  }
  const linear = (part) => (part <= 10 ? part / 255 / 12.92 : ((part / 255 + 0.055) / 1.055) ** 2.4);
  const [r, g, b] = [...paint.getImageData(0, 0, 1, 1).data].map(linear);
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
})"""

_PLACES = """() => [...document.querySelectorAll(".adv-lens .key, .adv-grid .key")].map((key) => {
  const { x, y } = key.getBoundingClientRect();
  return [key.dataset.act, x, y];
})"""


@pytest.fixture(scope="module")
def told(open_tablet):
    """The invented case in the middle of its test: remarks, settings, readings."""
    open_tablet.page.clock.set_fixed_time(NOW)
    case = of_file("demo/1-clean-emergency")
    last = [n for n, e in enumerate(case.entries) if READING in e["entry"]["path"]]
    case.entries = case.entries[: last[-1] + 1]
    record = case.put(open_tablet.page)
    open_tablet.reloads()
    return open_tablet, record


@pytest.fixture
def live(told):
    """The page, and what opens a screen of the told case."""
    tablet, record = told
    tablet.browser.problems.clear()
    yield Screens(tablet, record)
    # What is over a screen goes with it: the next test begins elsewhere.
    tablet.goes_home()
    tablet.page.emulate_media(forced_colors="none", reduced_motion="no-preference")
    tablet.page.set_viewport_size({"width": 1280, "height": 800})
    turned(tablet.page, "night")
    assert tablet.problems == []


class Screens:
    """The screens of one running case."""

    def __init__(self, tablet, record):
        self.tablet, self.page, self.record = tablet, tablet.page, record

    def sized(self, size):
        width, height = ALL_SIZES[size]
        self.page.set_viewport_size({"width": width, "height": height})

    def opens(self, name):
        """Open a screen; return what it is drawn in."""
        part = "capture" if name == "card" else "consent" if name == "spoken" else name
        address = f"#/{'far' if part == 'far' else 'case'}/{self.record}"
        tail = "" if part == "far" else f"/{part}"
        self.page.evaluate("(to) => { location.hash = to; }", address + tail)
        if part == "far":
            expect(self.page.locator(".far-cell[data-of=margin]")).to_be_visible()
            return "#far"
        # What was drawn before stands there still while the way back is on.
        expect(self.page.locator("#case:not([inert])")).to_be_visible()
        expect(self.page.locator(f"#part-{part}:not([hidden])")).to_have_count(1)
        if part in ("advance", "capture"):
            expect(self.page.locator("#panel")).to_have_attribute(
                "data-part", f"{part} live"
            )
        if name == "advance":
            self.calls_a_depth()
        if name == "capture":
            self.confirms_the_dial()
        if name == "spoken":
            self.page.locator(".part:visible [data-act=spoken]").click()
            expect(self.page.locator("#who-sheet")).to_be_visible()
        return "#case"

    def calls_a_depth(self):
        if not self.page.locator(".adv-depth [data-called]").count():
            self.page.locator(".adv-lens .key:visible").nth(1).click()
        expect(self.page.locator(".adv-depth [data-called]")).to_have_count(1)

    def confirms_the_dial(self):
        key = self.page.locator("#panel [data-act=dial-confirm]")
        if key.get_attribute("aria-pressed") == "false":
            key.click()
        expect(key).to_have_attribute("aria-pressed", "true")


def turned(page, theme):
    page.evaluate("(t) => { document.documentElement.dataset.theme = t; }", theme)


@pytest.mark.parametrize("size", ["tablet", "200 %"])
@pytest.mark.parametrize("screen", ["advance", "capture", "spoken", "approach", "far"])
def test_forced_colours_hide_no_text_and_no_rim(live, screen, size):
    live.page.emulate_media(forced_colors="active")
    live.sized(size)
    where = live.opens(screen)
    assert plated(live.page, where) == []
    assert faint(live.page) == []


def test_forced_colours_leave_places_inverted_and_leads_half_or_whole(live):
    live.page.emulate_media(forced_colors="active")
    live.opens("capture")
    canvas, current, other, place, test = live.page.evaluate(
        _LIGHTNESS, ["body", ".stop[aria-current]", ".stop", ".place", ".stand-test"]
    )
    assert other == canvas
    assert {round(one, 3) for one in (current, place, test)} == {1 - round(canvas, 3)}
    live.page.locator("[data-act=remarks]").click()
    drawn = live.page.locator(".remark-list > [data-weight]").evaluate_all(
        """(all) => Object.fromEntries(all.map((one) => {
          const { fill, stroke } = getComputedStyle(one.querySelector("svg path"));
          return [one.dataset.weight, [one.querySelector("svg").innerHTML, fill, stroke]];
        }))"""
    )
    assert {"look_again", "look_now"} <= set(drawn)
    assert drawn["look_again"][0] != drawn["look_now"][0]
    ground = live.page.evaluate("getComputedStyle(document.body).backgroundColor")
    assert all({fill, stroke} != {ground} for _, fill, stroke in drawn.values())


def test_a_line_being_read_differs_by_its_bar_from_the_others(live):
    live.page.emulate_media(forced_colors="active")
    live.opens("spoken")
    bars = live.page.locator(".spoken-list > li").evaluate_all(
        "(all) => all.map((one) => [one.ariaCurrent !== null, one.hasAttribute('data-shown'),"
        " getComputedStyle(one).borderLeftStyle])"
    )
    assert [style for is_now, _, style in bars if is_now] == ["solid"]
    assert {s for now, was, s in bars if not now and not was} == {"none"}


def test_the_focus_is_seen_in_forced_colours(live):
    live.page.emulate_media(forced_colors="active")
    live.opens("capture")
    live.page.keyboard.press("Tab")
    style, width, colour, ground = live.page.evaluate(
        "() => { const { outlineStyle, outlineWidth, outlineColor } = getComputedStyle(document.activeElement);"
        " return [outlineStyle, parseFloat(outlineWidth), outlineColor, getComputedStyle(document.body).backgroundColor]; }"
    )
    assert (style, width >= 3) == ("solid", True)
    assert colour != ground


def test_nothing_moves_for_whoever_wants_no_motion(live):
    live.page.emulate_media(reduced_motion="reduce")
    for screen in ("advance", "capture", "far"):
        live.opens(screen)
        assert live.page.evaluate(_MOVES) == []
        assert live.page.evaluate("document.getAnimations().length") == 0


@pytest.mark.parametrize("theme", ["night", "dim", "day"])
def test_a_key_that_holds_differs_in_grey_from_one_that_does_not(live, theme):
    live.opens("advance")
    turned(live.page, theme)
    held, free = live.page.evaluate(
        _LIGHTNESS,
        [".adv-lens [aria-pressed=true]", ".adv-lens [aria-pressed=false]"],
    )
    assert (max(held, free) + 0.05) / (min(held, free) + 0.05) >= 3


@pytest.mark.parametrize("screen", ["advance", "capture"])
def test_axe_finds_nothing_on_a_live_screen_by_day_and_by_night(live, screen):
    live.opens(screen)
    found = []
    for theme in ("night", "day"):
        turned(live.page, theme)
        found += [f"{theme}: {what}" for what in audit(live.tablet)]
        found += [f"{theme}: {what}" for what in faint(live.page)]
    assert found == []


@pytest.mark.parametrize("size", ALL_SIZES)
@pytest.mark.parametrize("screen", ["advance", "capture", "far"])
def test_no_text_runs_into_another_or_out_of_its_key(live, screen, size):
    live.sized(size)
    where = live.opens(screen)
    assert crossing(live.page, where) == []
    # What a panel scrolls is out of it and not cut.
    cut = [one for one in clipped(live.page) if "out of panel" not in one]
    assert cut == []
    assert covered(live.page) == []
    assert wider_than_screen(live.page) == []


@pytest.mark.parametrize("size", ALL_SIZES)
@pytest.mark.parametrize("screen", ["advance", "capture", "checks"])
def test_the_far_view_is_one_tap_away_at_every_size(live, screen, size):
    live.sized(size)
    live.opens(screen)
    key = live.page.locator("[data-act=far]:visible")
    expect(key).to_be_in_viewport(ratio=1)
    key.click()
    expect(live.page.locator(".far-cell[data-of=depth]")).to_contain_text("34")


def test_no_key_moves_on_a_phone_when_a_depth_is_called(live):
    live.sized("phone")
    live.opens("advance")
    called = live.page.evaluate(_PLACES)
    live.page.locator("[data-act=depth-other]:visible").click()
    expect(live.page.locator(".adv-grid")).to_have_attribute("data-asked", "digits")
    live.page.locator("[data-act=depth-other]:visible").click()
    expect(live.page.locator(".adv-depth [data-called]")).to_have_count(0)
    assert live.page.evaluate(_PLACES) == called


def test_the_results_are_reached_by_one_scroll_at_200_percent(live):
    live.sized("200 %")
    live.opens("advance")
    assert live.page.locator("#panel").evaluate(
        "(panel) => panel.scrollHeight <= panel.clientHeight + 1"
    )
    live.opens("capture")
    key = live.page.locator("[data-act=no_capture]")
    key.scroll_into_view_if_needed()
    expect(key).to_be_in_viewport(ratio=0.95)


def test_at_200_percent_the_heaviest_remark_and_who_enters_are_in_sight(live):
    live.sized("200 %")
    for screen in ("advance", "capture"):
        live.opens(screen)
        said = live.page.locator("#remark-said .remark[data-weight]")
        expect(said).to_be_in_viewport(ratio=0.95)
        for act in ("who", "far"):
            key = live.page.locator(f"[data-act={act}]:visible")
            expect(key).to_be_in_viewport(ratio=1)


def test_no_number_of_the_strip_stands_on_a_phone_without_its_word(live):
    live.sized("phone")
    for screen, word in (("advance", "threshold"), ("capture", "depth")):
        live.opens(screen)
        fact = live.page.locator("#case-strip .strip-facts > .fact .fact-word")
        expect(fact).to_be_visible()
        expect(fact).to_have_text(word)
