"""What the eye and the finger meet: nothing overflows, nothing is cut, all can be hit."""

import pytest
from playwright.sync_api import expect

from tests.support.looking import (
    LIVE,
    LONG,
    PARTS,
    SIZES,
    SMALL_SIZES,
    clipped,
    covered,
    opens,
    shows,
    small_targets,
    tells,
    unlabelled,
    wider_than_screen,
)


@pytest.fixture(scope="module")
def told(open_tablet):
    """A case with something in every part that draws, and the page to look at it."""
    open_tablet.goes_home()
    open_tablet.is_now("K. Ouse-Example", "nurse")
    open_tablet.starts_now()
    tells(open_tablet)
    return open_tablet


@pytest.fixture(params=[*SIZES, "1024"])
def sized(told, request):
    """The told case on a screen of one size."""
    width, height = {**SIZES, **SMALL_SIZES}[request.param]
    told.page.set_viewport_size({"width": width, "height": height})
    yield told
    told.page.set_viewport_size({"width": 1280, "height": 800})


@pytest.mark.parametrize("part", PARTS)
def test_no_part_is_wider_than_the_screen_cuts_text_or_hides_a_target(sized, part):
    opens(sized)
    shows(sized, part)
    assert wider_than_screen(sized.page) == []
    assert clipped(sized.page) == []
    assert covered(sized.page) == []
    assert small_targets(sized.page, least_px=64 if part in LIVE else 48) == []
    assert unlabelled(sized.page) == []


def test_the_whole_identity_stands_on_every_size(sized):
    opens(sized)
    shows(sized, "approach")
    strip = sized.page.locator("#case-strip")
    expect(strip.locator(".who-name")).to_have_text(LONG)
    for told in ("3 Feb 1954", "no. 00417220", "no band yet"):
        expect(strip).to_contain_text(told)


def test_the_whole_identity_stands_at_200_percent(told):
    opens(told)
    told.page.set_viewport_size({"width": 640, "height": 400})
    shows(told, "approach")
    strip = told.page.locator("#case-strip")
    expect(strip.locator(".who-name")).to_be_in_viewport(ratio=1)
    expect(strip).to_contain_text("no. 00417220")
    assert wider_than_screen(told.page) == []
    work = told.page.locator("#part-approach").bounding_box()
    told.page.set_viewport_size({"width": 1280, "height": 800})
    assert work["height"] >= 120


@pytest.mark.parametrize(
    ("size", "least_px"), [("tablet", 96), ("upright", 90), ("phone", 48)]
)
def test_the_numbers_of_capture_are_read_from_afar(told, size, least_px):
    opens(told)
    width, height = SIZES[size]
    told.page.set_viewport_size({"width": width, "height": height})
    shows(told, "capture")
    sizes = told.page.locator("#panel .num").evaluate_all(
        "all => all.map((n) => parseFloat(getComputedStyle(n).fontSize))"
    )
    told.page.set_viewport_size({"width": 1280, "height": 800})
    assert len(sizes) == 2
    assert min(sizes) >= least_px


def test_the_depth_being_logged_is_at_least_72_px_on_a_phone(told):
    opens(told)
    told.page.set_viewport_size({"width": 390, "height": 844})
    shows(told, "advance")
    size = told.page.locator("#panel .num").evaluate(
        "(n) => parseFloat(getComputedStyle(n).fontSize)"
    )
    told.page.set_viewport_size({"width": 1280, "height": 800})
    assert size >= 72


def test_no_live_number_stands_without_its_unit(told):
    opens(told)
    for part in ("advance", "capture"):
        shows(told, part)
        texts = told.page.locator(".num > [aria-hidden]").all_inner_texts()
        assert texts
        assert all(
            text.strip().endswith(("mA", "cm", "×", "Fr", "mm")) for text in texts
        )


def test_elapsed_time_never_carries_a_colon(told):
    opens(told)
    shows(told, "capture")
    ages = told.page.locator(".stand-cell small, .fact-value").all_inner_texts()
    assert ages
    assert not any(":" in age for age in ages)


def test_keys_stay_where_they_are_after_a_tap(told):
    opens(told)
    shows(told, "consent")
    key = told.field("Right patient").get_by_label("yes", exact=True)
    key.scroll_into_view_if_needed()
    before = key_boxes(told.page)
    key.click()
    told.says("Right patient", "kept")
    assert key_boxes(told.page) == before


def key_boxes(page):
    """Where every key of the page and its frame stands."""
    return page.evaluate(
        """() => [...document.querySelectorAll(".part:not([hidden]) .choice, .rail a, .strip-keys .key")]
          .filter((key) => key.offsetParent && !key.closest(".more"))
          .map((key) => { const b = key.getBoundingClientRect(); return [b.x, b.y, b.width, b.height]; })"""
    )


def test_the_ground_is_dark_before_any_script_runs(standing, shared_browser):
    page = shared_browser.context.new_page()
    page.route("**/*.js", lambda route: route.abort())
    page.goto(f"{standing.url}/tablet/")
    ground = page.evaluate("getComputedStyle(document.documentElement).backgroundColor")
    page.close()
    shared_browser.problems.clear()
    assert ground == "rgb(11, 15, 16)"
