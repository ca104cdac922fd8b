"""Rows are added whole and struck whole; nothing of them is ever lost."""

import pytest
from playwright.sync_api import expect

from tests.support.bedside import Bedside

DRUGS = "indication.drugs_given"


@pytest.fixture
def case(bedside):
    """A case open on Indication."""
    bedside.starts_new()
    bedside.goes_to("Indication")
    return bedside


def gives(case, drug, dose="", unit=""):
    """Add a drug given."""
    case.adds("Drug given")
    case.picks("Drug", drug)
    if dose:
        case.types("Dose", dose, unit=unit)
    case.keeps_row()


def row(case, text):
    """The shown row that says this."""
    return case.page.locator(".part:visible .group-row").filter(has_text=text).first


def test_a_row_holds_only_what_was_answered(case):
    gives(case, "Atropine", "0,5", "mg")
    expect(row(case, "Atropine")).to_be_visible()
    (kept,) = case.rows(DRUGS)
    assert kept["value"] == {
        "drug": "atropine",
        "dose": {"as": "0,5", "n": "0.5", "unit": "mg"},
    }


def test_a_child_takes_absences(case):
    case.adds("Drug given")
    case.picks("Drug", "Midazolam")
    case.gives_no_answer("Dose", "not stated by", "crew report")
    case.keeps_row()
    expect(row(case, "Midazolam")).to_contain_text("not stated by crew report")
    (kept,) = case.rows(DRUGS)
    assert kept["value"]["dose"] == {
        "absent": "not_known",
        "not_stated_by": "crew report",
    }


def test_an_impossible_child_is_kept_and_marked(case):
    case.adds("Observations")
    case.types("Heart rate", "4000")
    problem = case.field("Heart rate").locator(".field-problem")
    expect(problem).to_contain_text("350")
    case.keeps_row()
    expect(row(case, "4000").locator("b[data-state='impossible']")).to_have_text(
        "4000 /min"
    )


def test_an_empty_row_is_not_kept_and_says_so(case):
    case.adds("Drug given")
    sheet = case.page.locator("#sheet")
    sheet.get_by_role("button", name="Keep", exact=True).click()
    expect(sheet.locator(".sheet-said")).to_have_text("Nothing said yet.")
    sheet.get_by_role("button", name="Discard").click()
    expect(sheet).to_be_hidden()
    assert case.rows(DRUGS) == []


def test_keep_then_another_stays_for_the_next(case):
    case.adds("Drug given")
    case.picks("Drug", "Atropine")
    case.page.get_by_role("button", name="Keep, then another").click()
    expect(row(case, "Atropine")).to_be_attached()
    case.picks("Drug", "Adrenaline (epinephrine)")
    case.keeps_row()
    expect(row(case, "Adrenaline")).to_be_visible()
    assert len(case.rows(DRUGS)) == 2


def test_a_row_is_struck_with_its_reason_and_stays(case):
    gives(case, "Atropine")
    shown = row(case, "Atropine")
    shown.get_by_role("button", name="Strike Atropine").click()
    shown.get_by_label("entered in error, because").fill("wrong patient")
    shown.get_by_role("button", name="Strike Atropine").last.click()
    expect(shown).to_contain_text("wrong patient")
    expect(shown).to_have_attribute("data-struck", "")
    (kept,) = case.rows(DRUGS)
    assert kept["struck"]["reason"] == "wrong patient"


def test_a_struck_row_is_kept_after_all_by_one_tap(case):
    gives(case, "Atropine")
    case.page.locator("#kept").get_by_role("button", name="Strike Atropine").click()
    shown = row(case, "Atropine")
    expect(shown).to_have_attribute("data-struck", "")
    shown.get_by_role("button", name="Keep after all: Atropine").click()
    expect(shown).not_to_have_attribute("data-struck", "")
    (kept,) = case.rows(DRUGS)
    assert kept["struck"] is None


def test_rows_of_rows_name_the_row_they_belong_to(case):
    case.adds("Skin pacing")
    case.types("Output", "maximum")
    case.keeps_row()
    for answer in ("yes", "no"):
        place = row(case, "maximum")
        place.get_by_role("button", name="Add: Capture under skin pacing").click()
        case.picks("Mechanical capture", answer)
        case.keeps_row()
    (spell,) = case.rows("indication.skin_pacing")
    readings = case.rows("indication.skin_pacing_reading")
    assert [r["value"]["of"] for r in readings] == [spell["id"]] * 2
    assert [r["value"]["mechanical"] for r in readings] == ["yes", "no"]
    expect(row(case, "maximum").locator(".row-inner .group-row")).to_have_count(2)


def test_a_reading_seen_now_is_stamped_when_it_is_kept(case):
    case.goes_to("Advance")
    case.page.get_by_role("button", name="Depth reading", exact=True).click()
    case.types("Depth", "34")
    case.picks("Result", "RV contact (ST up)")
    case.keeps_row()
    wire = case.rows("wires")[0]["id"]
    (reading,) = case.rows(f"wires/{wire}/advance.depth_reading")
    assert reading["value"]["moment"]["certainty"] == "exact"
    expect(case.page.locator("#panel")).to_contain_text("RV contact (ST up)")


def test_what_was_told_gets_no_time_of_its_own(case):
    says_source(case, "told")
    case.goes_to("Advance")
    case.page.get_by_role("button", name="Depth reading", exact=True).click()
    case.types("Depth", "34")
    case.keeps_row()
    wire = case.rows("wires")[0]["id"]
    (reading,) = case.rows(f"wires/{wire}/advance.depth_reading")
    assert "moment" not in reading["value"]
    meta = case.fold()["entries"][reading["id"]]
    assert meta["source"] == "told"


def says_source(case, source):
    """Say how what follows is known."""
    case.page.locator("[data-act='who']:visible").click()
    sheet = case.page.get_by_role("dialog", name="Who is here")
    sheet.get_by_role("button", name=source, exact=True).click()
    sheet.get_by_role("button", name="These from now on").click()
    expect(sheet).to_be_hidden()


def test_somebody_elses_observation_names_both(case):
    case.page.locator("[data-act='who']:visible").click()
    sheet = case.page.get_by_role("dialog", name="Who is here")
    sheet.get_by_label("At this tablet: name").fill("K. Ouse-Example")
    sheet.get_by_label("Whose observation: name").fill("E. Tarn-Example")
    sheet.get_by_label("Whose observation: role").fill("operator")
    sheet.get_by_role("button", name="These from now on").click()
    gives(case, "Atropine")
    (kept,) = case.rows(DRUGS)
    meta = case.fold()["entries"][kept["id"]]
    assert meta["author"]["name"] == "E. Tarn-Example"
    assert meta["entered_by"]["name"] == "K. Ouse-Example"
    expect(row(case, "Atropine")).to_contain_text("entered by K. Ouse-Example")


def test_a_row_half_told_comes_back_after_a_kill(browser, standing):
    case = Bedside(browser, standing.url)
    case.starts_new()
    case.goes_to("Indication")
    case.adds("Drug given")
    case.picks("Drug", "Atropine")
    case.types("Dose", "0.5", unit="mg")
    record, url = case.record, case.page.url
    waits_for_draft(case, record, "indication.drugs_given#row")
    browser.kill()
    again = browser.opens(url)
    sheet = again.locator("#sheet")
    expect(sheet.get_by_role("radio", name="Atropine")).to_be_checked()
    expect(sheet.get_by_role("textbox", name="Dose")).to_have_value("0.5")


def waits_for_draft(case, record, path):
    """Wait until an unfinished text lies in the tablet's database."""
    case.waits_for(
        f"""(await (async () => {{
          const {{ openStore }} = await import("/static/js/log/store.js");
          const store = await openStore();
          const drafts = await store.drafts("{record}");
          store.close();
          return (drafts["{path}"] ?? "").includes("0.5");
        }})())"""
    )
