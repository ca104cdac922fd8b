"""Known failures of forms in a browser, each tried as it was reported."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest
from playwright.sync_api import expect

from tests.support.browser import CHROMIUM, FLAGS, wait_until
from tests.support.tablet_database import HOLD_ENTRIES

KG = {"unit": "kg"}
# As typed, key by key, whatever the browser's own language makes of a number.
TYPED = {
    "1,5": {"as": "1,5", "n": "1.5"},
    "1.5": {"as": "1.5", "n": "1.5"},
    "٦٤": {"as": "٦٤", "n": "64"},
}
# No one figure: never an empty value, never a figure that nobody typed.
NO_FIGURE = ("1.000,5", "1 000", "--1", "1e", "\u22125")
IDENTIFIERS = ("007", "00120.50", "1e5", "0x10", "12345678901234567890")
INK = """(root) => {
  const canvas = root.querySelector("canvas");
  const { data } = canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height);
  let ink = 0;
  for (let at = 3; at < data.length; at += 4) ink += data[at] > 0;
  return ink;
}"""


@pytest.fixture
def case(bedside):
    """A case just begun."""
    bedside.starts_new()
    return bedside


def weight_box(page):
    return page.locator(".part:visible [data-path='patient.weight'] .qty")


def weighs(case, typed: str):
    box = weight_box(case.page)
    box.press_sequentially(typed)
    case.leaves(case.field("Weight"))
    case.says("Weight", "·" if typed in NO_FIGURE else "kept")
    return case.value("patient.weight")


@pytest.mark.parametrize("typed", TYPED)
def test_a_number_typed_key_by_key_is_the_number_that_was_meant(case, typed):
    assert weighs(case, typed) == {**TYPED[typed], **KG}


@pytest.mark.parametrize("typed", NO_FIGURE)
def test_what_is_no_one_figure_is_kept_as_typed_and_never_empty(case, typed):
    kept = weighs(case, typed)
    assert kept["as"] == typed
    assert kept.get("n") in (None, "-5")
    expect(case.field("Weight")).to_have_attribute("data-state", "impossible")
    expect(weight_box(case.page)).to_have_value(typed)


@pytest.mark.parametrize("locale", ["en-US", "de-DE", "fr-FR", "ar-EG"])
def test_the_browser_s_language_changes_no_number(playwright_here, standing, locale):
    browser = playwright_here.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
    page = browser.new_context(locale=locale).new_page()
    page.goto(f"{standing.url}/tablet/")
    page.get_by_role("button", name="New case").click()
    weight_box(page).press_sequentially("1,5")
    weight_box(page).blur()
    root = page.locator(".part:visible [data-path='patient.weight']")
    expect(root.locator(".field-said")).to_contain_text("kept")
    expect(weight_box(page)).to_have_value("1,5")
    browser.close()


def test_a_wheel_over_a_number_changes_nothing(case):
    kept = weighs(case, "64")
    box = weight_box(case.page)
    box.focus()
    box.hover()
    for _ in range(3):
        case.page.mouse.wheel(0, 100)
    expect(box).to_have_value("64")
    assert case.value("patient.weight") == kept
    shell = case.page.evaluate("async () => (await fetch('/tablet/')).text()")
    assert 'type="number"' not in shell


@pytest.mark.parametrize("typed", IDENTIFIERS)
def test_an_identifier_stays_as_typed_letter_for_letter(case, typed):
    case.types("Record number", typed)
    case.keeps("patient.record_number", typed)
    expect(case.page.locator("#case-strip")).to_contain_text(f"no. {typed}")


@pytest.mark.parametrize("zone", ["America/Toronto", "Pacific/Auckland", "UTC"])
def test_now_is_the_day_and_time_of_the_ward_s_own_clock(
    playwright_here, standing, zone
):
    browser = playwright_here.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
    page = browser.new_context(timezone_id=zone, locale="en-GB").new_page()
    page.goto(f"{standing.url}/tablet/")
    for time in ("00:10", "19:10", "23:50"):
        at = datetime.fromisoformat(f"2031-03-01T{time}").replace(tzinfo=ZoneInfo(zone))
        page.clock.set_fixed_time(at)
        page.goto(f"{standing.url}/tablet/?at={time}")
        page.get_by_role("button", name="New case").click()
        # Its page stands once it is begun: a tap before that finds the part's form unread.
        heading = page.get_by_role("heading", name="Patient", exact=True)
        expect(heading).to_be_visible()
        expect(page.locator("#case-strip")).to_contain_text("since opened")
        root = page.locator(".part:visible [data-path='patient.wristband_read']")
        root.get_by_role("button", name="now", exact=True).click()
        expect(root.locator(".moment-time")).to_have_value(time)
        expect(root.locator(".moment-day")).to_have_value("1 Mar 2031")
        born = page.locator(
            ".part:visible [data-path='patient.birth_date'] .input"
        ).first
        born.fill("1 Mar 1954")
        born.blur()
        expect(page.locator("#case-strip")).to_contain_text("1 Mar 1954")
    browser.close()


def test_two_taps_begin_one_case(bedside):
    cases = bedside.page.locator(".cases-row")
    before = cases.count()
    bedside.page.get_by_role("button", name="Start now, no name").dblclick()
    expect(bedside.page.locator("#case")).to_be_visible()
    bedside.goes_home()
    expect(cases).to_have_count(before + 1)


def test_five_quick_taps_keep_one_row(case):
    case.goes_to("Indication")
    case.adds("Drug given")
    case.types("Dose", "0.5")
    case.page.locator("#sheet").get_by_role("button", name="Keep", exact=True).evaluate(
        "(key) => { for (let n = 0; n < 5; n++) key.click(); }"
    )
    expect(case.page.locator("#sheet")).to_be_hidden()
    assert len(case.rows("indication.drugs_given")) == 1


def test_enter_and_a_tap_while_a_row_is_slowly_written_keep_one_row(case):
    case.goes_to("Indication")
    case.adds("Drug given")
    case.types("Dose", "0.5")
    # The first save waits, and the taps come meanwhile.
    case.page.evaluate(HOLD_ENTRIES)
    key = case.page.locator("#sheet").get_by_role("button", name="Keep", exact=True)
    key.press("Enter")
    key.evaluate("(key) => key.click()")
    case.page.evaluate("release()")
    expect(case.page.locator("#sheet")).to_be_hidden()
    assert len(case.rows("indication.drugs_given")) == 1


def test_a_signature_outlives_turning_the_tablet(case):
    case.goes_to("Consent")
    case.picks("Consent", "By the patient")
    root = case.field("Signature")
    case.draws("Signature", (20, 60), (80, 20), (140, 90))
    case.leaves(root)
    case.says("Signature", "kept")
    before = root.evaluate(INK)
    assert before > 0
    for size in ((800, 1280), (390, 844), (640, 400), (1280, 800)):
        case.page.set_viewport_size({"width": size[0], "height": size[1]})
        wait_until(
            case.page, "new Promise((done) => requestAnimationFrame(() => done(true)))"
        )
        assert root.evaluate(INK) == before
    assert len(case.value("consent.signature")["strokes"]) == 1


def test_a_length_is_counted_in_letters_as_people_see_them(case):
    case.types("Family name", "👍" * 80)
    case.says("Family name", "kept")
    expect(case.field("Family name").locator(".field-problem")).to_be_empty()
    case.types("Family name", "👍" * 81)
    expect(case.field("Family name").locator(".field-problem")).to_contain_text(
        "kept whole"
    )


@pytest.mark.parametrize("sign", ["\x00", "\x07", "\x1b", "\x7f", "\x9f"])
def test_a_control_sign_is_shown_and_kept_never_an_early_end(case, sign):
    case.types("Family name", f"aaa{sign}bbb")
    case.says("Family name", "kept")
    kept = case.value("patient.family_name")
    assert kept.startswith("aaa")
    assert kept.endswith("bbb")
    name = case.page.locator("#case-strip .who-name").inner_text()
    assert name.startswith("aaa")
    assert name.endswith("bbb")
