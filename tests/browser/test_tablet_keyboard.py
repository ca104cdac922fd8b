"""The whole case by keyboard alone."""

import pytest
from playwright.sync_api import expect

from tests.support.bedside import Bedside
from tests.support.keys import Keys


def focused(page):
    """What holds the focus, in a few words."""
    return page.evaluate(
        "() => { const a = document.activeElement; return a.getAttribute('aria-label')"
        " || a.closest('label')?.textContent.trim() || a.textContent.trim() || a.name; }"
    )


def test_a_case_begins_and_is_answered_without_a_pointer(bedside):
    page = bedside.page
    page.get_by_role("button", name="Start now, no name").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name="Patient", level=2)).to_be_visible()
    bedside.field("Identity known").get_by_role("radio", name="yes").focus()
    page.keyboard.press("Space")
    bedside.keeps("patient.identity_known", "yes")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Tab")
    bedside.keeps("patient.identity_known", "no")


def test_what_an_arrow_only_passes_is_never_an_entry(bedside):
    bedside.starts_new()
    page = bedside.page
    radios = bedside.field("Sex for clinical use").get_by_role("radio")
    radios.first.focus()
    for _ in range(3):
        page.keyboard.press("ArrowDown")
    expect(radios.nth(3)).to_be_checked()
    page.keyboard.press("Enter")
    bedside.keeps("patient.sex", "unknown")
    told = [e for e in bedside.fold()["entries"].values() if e["path"] == "patient.sex"]
    assert len(told) == 1


def test_what_an_arrow_passed_comes_back_after_a_kill(browser, standing):
    case = Bedside(browser, standing.url)
    case.starts_new()
    url, record = case.page.url, case.record
    case.field("Sex for clinical use").get_by_role("radio").first.focus()
    case.page.keyboard.press("ArrowDown")
    case.waits_for(
        f"""(await (async () => {{
          const {{ openStore }} = await import("/static/js/log/store.js");
          const store = await openStore();
          const drafts = await store.drafts("{record}");
          store.close();
          return "patient.sex" in drafts;
        }})())"""
    )
    browser.kill()
    again = browser.opens(url)
    expect(again.get_by_role("radio", name="Male", exact=True)).to_be_checked()


def test_the_focus_stays_where_it_was_when_the_page_is_drawn_anew(bedside):
    bedside.starts_new()
    page = bedside.page
    who = page.locator("#case-strip [data-act='who']")
    who.focus()
    page.evaluate("window.dispatchEvent(new Event('resize'))")
    bedside.somebody_else_says("patient.family_name", "ALDERMERE", "O. Fell-Example")
    expect(page.locator("#case-strip .who-name")).to_have_text("ALDERMERE")
    expect(who).to_be_focused()


def test_what_a_sheet_covers_is_not_reached_and_its_key_has_the_focus_again(bedside):
    bedside.starts_new()
    page = bedside.page
    page.locator("#case-strip [data-act='who']").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("dialog", name="Who is here")).to_be_visible()
    expect(page.locator("#part-patient")).to_have_attribute("inert", "")
    page.keyboard.press("Escape")
    expect(page.locator("#part-patient")).not_to_have_attribute("inert", "")
    expect(page.locator("#case-strip [data-act='who']")).to_be_focused()


def test_tab_leads_from_field_to_field_and_keeps_what_was_typed(bedside):
    bedside.starts_new()
    page = bedside.page
    bedside.field("Family name").get_by_role("textbox", name="Family name").focus()
    page.keyboard.type("ALDERMERE")
    for _ in range(3):
        page.keyboard.press("Tab")
    assert focused(page) != "patient.family_name"
    bedside.keeps("patient.family_name", "ALDERMERE")


def test_a_row_is_told_kept_and_left_by_keyboard(bedside):
    bedside.starts_new()
    bedside.goes_to("Indication")
    page = bedside.page
    add = bedside.field("Drug given").get_by_role("button", name="Add: Drug given")
    add.focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("dialog", name="Drug given")).to_be_visible()
    assert focused(page) == "Atropine"
    page.keyboard.press("Space")
    keep = page.get_by_role("button", name="Keep", exact=True)
    keep.focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("dialog", name="Drug given")).to_be_hidden()
    assert focused(page) == "Add: Drug given"
    assert len(bedside.rows("indication.drugs_given")) == 1


def test_escape_leaves_a_row_and_keeps_it_as_a_draft(bedside):
    bedside.starts_new()
    bedside.goes_to("Indication")
    bedside.adds("Drug given")
    bedside.picks("Drug", "Atropine")
    bedside.page.keyboard.press("Escape")
    expect(bedside.page.locator("#sheet")).to_be_hidden()
    assert bedside.rows("indication.drugs_given") == []
    bedside.goes_to("Patient")
    bedside.goes_to("Indication")
    chosen = bedside.page.locator("#sheet").get_by_role("radio", name="Atropine")
    expect(chosen).to_be_checked()
    bedside.page.get_by_role("button", name="Discard").click()


def test_next_open_goes_from_question_to_question(bedside):
    bedside.starts_new()
    bedside.goes_to("Consent")
    key = bedside.page.get_by_role("button", name="Next open")
    key.focus()
    bedside.page.keyboard.press("Enter")
    first = focused_field(bedside.page)
    key.focus()
    bedside.page.keyboard.press("Enter")
    assert first
    assert focused_field(bedside.page) == first


QUICK_HAND = """() => {
  const part = document.querySelector("#part-patient");
  new MutationObserver((_, watch) => {
    const box = part.querySelector("[data-path='patient.family_name'] input[type='text']");
    if (!box?.offsetParent) return;
    watch.disconnect();
    box.focus();
  }).observe(document.body, { attributes: true, subtree: true });
}"""


def test_a_hand_that_is_in_a_field_before_the_page_is_ready_is_not_taken_out(bedside):
    page = bedside.page
    page.evaluate(QUICK_HAND)
    bedside.starts_new()
    page.keyboard.type("ALDERMERE")
    assert focused(page) == "patient.family_name"
    page.keyboard.press("Tab")
    bedside.keeps("patient.family_name", "ALDERMERE")


@pytest.mark.parametrize("part", ["Patient", "Finish"])
def test_every_field_of_a_part_is_reached_by_tab(bedside, part):
    bedside.starts_new()
    bedside.goes_to(part)
    missing = bedside.page.evaluate(
        """() => [...document.querySelectorAll(".part:not([hidden]) :is(.field, .group):not([hidden])")]
          .filter((field) => field.offsetParent && ![...field.querySelectorAll("input, textarea, select, button")]
            .some((control) => control.tabIndex >= 0 && control.offsetParent))
          .map((field) => field.dataset.path)"""
    )
    assert missing == []


def focused_field(page):
    """The path of the field that holds the focus."""
    return page.evaluate(
        "document.activeElement.closest('.field, .group')?.dataset.path ?? ''"
    )


def test_the_key_of_a_row_that_grew_out_of_sight_is_brought_back_with_the_focus(
    bedside,
):
    bedside.starts_new()
    bedside.goes_to("Capture")
    bedside.adds("Threshold test")
    bedside.picks("Kind of test", "Full test")
    bedside.keeps_row()
    keys = Keys(bedside)
    add = bedside.page.get_by_role("button", name="Add: Output reading", exact=True)
    for output in ("5", "4", "3", "2"):
        keys.taps(add.first)
        keys.fills(bedside.page.locator("#sheet .qty").first, output)
        keys.taps(bedside.page.get_by_role("button", name="Keep", exact=True))
        expect(bedside.page.locator("#sheet")).to_be_hidden()
        expect(add.first).to_be_focused()
        expect(add.first).to_be_in_viewport(ratio=1)
    assert keys.unseen == []
