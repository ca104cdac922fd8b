"""What stands on a live screen stays where it is while a wire is read."""

import pytest
from playwright.sync_api import expect

from tests.support.live_advance import told_case
from tests.support.live_capture import Live, begin_reliable

SIZES = [(1280, 800), (800, 1280), (390, 844)]
# The browser's own measure: what was drawn in one place and is drawn in another.
_WATCH = """() => {
  window.shifts = [];
  const box = ({ x, y, width, height }) => [x, y, width, height].map(Math.round).join(" ");
  const name = (node) => node?.nodeType === 3 ? name(node.parentElement)
    : [node?.tagName, node?.id, node?.className, node?.textContent?.slice(0, 30)].join(" ");
  // A sentence that takes another's place is set in the middle of it; an age that becomes
  // longer pushes what stands after it in the rows above the work area.
  const isSaid = (node) => (node?.closest ? node : node?.parentElement)
    ?.closest("#remark-said, .kept-said, #stand, #case-strip, #case-time");
  const note = (list) => {
    for (const { sources } of list.getEntries())
      for (const { node, previousRect, currentRect } of sources)
        if (!isSaid(node)) shifts.push(`${name(node)}: ${box(previousRect)} -> ${box(currentRect)}`);
  };
  window.watch = new PerformanceObserver(note);
  watch.observe({ type: "layout-shift" });
}"""
_SEEN = """() => new Promise((done) => requestAnimationFrame(() => setTimeout(() => {
  done(window.shifts);
})))"""


def shifts(page):
    """What moved since it was watched, up to the frame that is drawn now."""
    return page.evaluate(_SEEN)


def sizes(page, size):
    page.set_viewport_size({"width": size[0], "height": size[1]})
    page.wait_for_function("(width) => innerWidth === width", arg=size[0])


def begin_dependent(bedside):
    """Begin for a patient whose own rhythm nobody knows: loss is not sought first."""
    live = Live(bedside)
    live.reads_back("10")
    live.taps_on("keep-read")
    return live


@pytest.mark.parametrize("begin", [begin_reliable, begin_dependent])
@pytest.mark.parametrize("size", SIZES)
def test_nothing_moves_while_a_threshold_is_sought(bedside, size, begin):
    live = begin(bedside)
    sizes(live.page, size)
    # The settings of a test stand from its first reading on.
    live.reads("captures")
    live.page.evaluate(_WATCH)
    live.reads("captures")
    live.reads("cannot_tell")
    live.reads("no_capture")
    expect(live.panel.locator(".cap-next")).to_contain_text("go up")
    live.reads("captures")
    moved = shifts(live.page)
    live.page.set_viewport_size({"width": 1280, "height": 800})
    assert moved == []


@pytest.mark.parametrize("size", SIZES)
def test_nothing_moves_while_a_wire_is_advanced(bedside, size):
    live = told_case(bedside)
    sizes(live.page, size)
    live.reads(14, "svc", "SVC")
    live.page.evaluate(_WATCH)
    live.reads(15, "high_ra", "High RA")
    live.reads(16, "mid_ra", "Mid RA")
    moved = shifts(live.page)
    live.page.set_viewport_size({"width": 1280, "height": 800})
    assert moved == []


def test_a_tapped_key_stays_while_what_it_says_changes(bedside):
    live = begin_reliable(bedside)
    live.page.evaluate(
        "() => { window.tapped = document.querySelector('[data-act=dial-confirm]'); }"
    )
    live.taps_on("dial-confirm")
    expect(live.key("dial-confirm")).to_have_attribute("aria-pressed", "true")
    expect(live.key("dial-confirm")).to_be_focused()
    live.taps_on("captures")
    live.offers("4.5")
    assert live.page.evaluate(
        "tapped === document.querySelector('[data-act=dial-confirm]')"
    )


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize(
    ("opener", "sheet"),
    [
        ("#panel [data-act=left-at-sheet]", "#sheet"),
        ("#remark-all [data-act=remarks]", "#who-sheet"),
    ],
)
def test_a_sheet_takes_the_place_of_the_live_keys_and_gives_it_back(
    bedside, size, opener, sheet
):
    live = begin_reliable(bedside)
    live.reads("captures")
    sizes(live.page, size)
    work = live.page.locator("#work").bounding_box()
    live.page.locator(opener).press("Enter")
    expect(live.page.locator(f"{sheet} .sheet-keys .key").first).to_be_in_viewport()
    assert live.page.locator(sheet).bounding_box() == work
    live.page.keyboard.press("Escape")
    expect(live.page.locator(sheet)).to_be_hidden()
    expect(live.page.locator(opener)).to_be_focused()
    live.page.set_viewport_size({"width": 1280, "height": 800})
