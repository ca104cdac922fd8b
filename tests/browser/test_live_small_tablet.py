"""The live screens on tablets held across that are narrower than 1280 px.

All that is to be read or tapped is in sight, nothing lies over anything else, and no key
moves when a number becomes longer.
"""

from playwright.sync_api import expect

from tests.support.live_advance import told_case
from tests.support.live_capture import begin_reliable
from tests.support.looking import (
    LONG,
    SMALL_SIZES,
    clipped,
    covered,
    shows,
    small_targets,
    wider_than_screen,
)
from tests.support.overlaid import crossing, meeting, out_of_sight

ALWAYS = [".remark-bar", "[data-act=arrest]", ".danger-lost", "[data-act=far]"]
CAPTURE = [
    *("[data-act=dial-confirm]", "[data-act=dial-up]", "[data-act=dial-down]"),
    *("[data-act=captures]", "[data-act=no_capture]", "[data-act=cannot_tell]"),
    *(".cap-numbers > :first-child", ".cap-numbers > :last-child", ".cap-line"),
    *("[data-act=wiring]", ".cap-keys > .key", "[data-act=strike-last]"),
    *("[data-act=read-output]", "[data-act=read-rate]", "[data-act=read-mode]"),
]
ADVANCE = [
    *(".adv-lens > .key", ".adv-depth", ".adv-shown", ".adv-once > .key", ".adv-ask"),
    *(".adv-grid > .key", ".adv-balloon .key", ".adv-ectopy .key", ".adv-list"),
    *("[data-act=vt_vf]", "[data-act=resistance]", ".adv-keys > .key"),
]
_PLACES = """(keys) => [...document.querySelectorAll(keys)].filter((key) => key.checkVisibility({ visibilityProperty: true })).map((key) => {
  const { x, y, width, height } = key.getBoundingClientRect();
  return [x, y, width, height].map(Math.round).join(" ");
})"""
_SIZES_PX = """(all) => Object.fromEntries(Object.entries(all).map(([name, where]) =>
  [name, Math.max(...[...document.querySelectorAll(where)].map((one) => parseFloat(getComputedStyle(one).fontSize)))]))"""
_CHARTS = """() => { const panel = document.querySelector("#panel").getBoundingClientRect();
  return [...document.querySelectorAll("#panel .panel-chart svg")].map((one) => {
    const { top, bottom, height } = one.getBoundingClientRect();
    return height > 60 && top >= panel.top && bottom <= panel.bottom;
  }); }"""


class Look:
    """What one screen shows at each size, in each state it was brought to."""

    def __init__(self, page, needed, keys):
        self.page, self.needed, self.keys = page, [*ALWAYS, *needed], keys
        self.found, self.places = {}, {}

    def sized(self, size):
        width, height = SMALL_SIZES[size]
        self.page.set_viewport_size({"width": width, "height": height})
        # What is drawn to measure is drawn anew once its place has its size.
        self.page.evaluate(
            "new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))"
        )

    def looks(self, state):
        for size in SMALL_SIZES:
            self.sized(size)
            self.found[state, size] = [
                *crossing(self.page, "#case"),
                *meeting(self.page, "#case"),
                *clipped(self.page),
                *covered(self.page),
                *wider_than_screen(self.page),
                *small_targets(self.page, least_px=64),
                *out_of_sight(self.page, self.needed),
            ]
            self.places.setdefault(size, {})[state] = self.page.evaluate(
                _PLACES, self.keys
            )
        self.page.set_viewport_size({"width": 1280, "height": 800})

    def findings(self):
        return {where: found for where, found in self.found.items() if found}

    def moved(self):
        """By size and state, where keys stand that stood elsewhere in the state before."""
        return {
            (size, state): sorted(set(places) ^ set(before))
            for size, states in self.places.items()
            for before, (state, places) in zip(
                states.values(), list(states.items())[1:], strict=False
            )
            if places != before
        }


def reads(live, output, result):
    live.keys_over("other-output", output)
    live.taps_on(result)
    live.case.waits_for(
        "document.querySelector('[data-act=dial-confirm]').ariaPressed === 'false'"
    )
    expect(live.key("strike-last")).to_contain_text(f"Strike {output} mA")


def shows_numbers(live, *shown):
    blocks = live.panel.locator(".cap-numbers > .panel-block")
    for block, words in zip(blocks.all(), shown, strict=True):
        if words:
            expect(block.locator(".spoken")).to_have_text(f"{words}\u00a0milliamps")
        else:
            expect(block.locator(".panel-number")).to_have_text("–")


def test_numbers_of_capture_of_any_length_lie_over_nothing_and_move_nothing(bedside):
    live = begin_reliable(bedside)
    look = Look(live.page, CAPTURE, "#panel button, #rail a, #danger .key")
    look.looks("–")
    for output, result, shown in (
        ("10.5", "captures", ("≤ 10.5", "")),
        ("10", "no_capture", ("10.5", "25")),
    ):
        reads(live, output, result)
        shows_numbers(live, *shown)
        look.looks(shown)
    live.taps_on("strike-last")
    for output, result, shown in (
        ("2.5", "captures", ("≤ 2.5", "")),
        ("2", "no_capture", ("2.5", "6.3")),
    ):
        reads(live, output, result)
        shows_numbers(live, *shown)
        look.looks(shown)
    assert look.findings() == {}
    assert look.moved() == {}
    assert_chart_and_ranks(look)
    shows(bedside, "checks")
    look.needed = ALWAYS
    look.looks("checks")
    assert look.findings() == {}


def assert_chart_and_ranks(look):
    """The dial is the largest, then the numbers; opposites lie apart, the chart is whole."""
    for size in SMALL_SIZES:
        look.sized(size)
        px = look.page.evaluate(
            _SIZES_PX,
            {
                "dial": ".cap-called b",
                "numbers": ".cap-numbers .panel-number b",
                "rest": "#panel :not(.cap-called, .panel-number, :is(.cap-called, .panel-number) *)",
            },
        )
        assert px["dial"] >= px["numbers"] > px["rest"], size
        yes, no = (
            look.page.locator(f"#panel [data-act={act}]").bounding_box()
            for act in ("captures", "no_capture")
        )
        assert no["x"] - yes["x"] - yes["width"] >= 24
        if size != "1000":
            assert look.page.evaluate(_CHARTS) == [True, True]


def test_keys_of_advance_are_whole_in_sight_and_stay_in_their_place(bedside):
    years = {"as": "77", "n": "77", "unit": "a"}
    advance = told_case(bedside, estimated_age=years, family_name=LONG)
    fixed = ".adv-lens .key, .adv-once .key, .adv-side .key, #rail a, #danger .key"
    look = Look(advance.page, ADVANCE, fixed)
    look.looks("nothing read")
    for cm, result in enumerate(
        ("svc", "high_ra", "mid_ra", "low_ra", "rv_contact"), 15
    ):
        advance.taps(f"depth-{cm}", f"result-{result}")
        advance.is_centred_on(cm)
    advance.taps("balloon-up", "ectopy-some")
    look.looks("contact")
    advance.taps("depth-20")
    look.looks("called")
    expect(advance.page.locator(".adv-grid > .key")).to_have_count(10)
    advance.taps("ask-guide")
    look.looks("guides")
    advance.taps("guide-transoesophageal")
    look.looks("imaging")
    advance.taps("ask-guide", "guide-pacing")
    look.looks("pacing")
    advance.taps("ask-p_waves")
    look.looks("P waves")
    advance.taps("depth-other")
    look.looks("digits")
    assert look.findings() == {}
    assert look.moved() == {}
