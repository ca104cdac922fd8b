"""Not known, not done and not asked are three answers, and none of them is "no"."""

import re

import pytest
from playwright.sync_api import expect


@pytest.fixture
def case(bedside):
    """A case just begun."""
    bedside.starts_new()
    return bedside


def test_not_known_is_one_tap(case):
    case.gives_no_answer("Height", "not known")
    case.says("Height", "not known")
    assert case.value("patient.height") == {"absent": "not_known"}


def test_not_stated_names_the_report(case):
    case.gives_no_answer("Record number", "not stated by", "crew report")
    case.says("Record number", "not stated by crew report")
    assert case.value("patient.record_number") == {
        "absent": "not_known",
        "not_stated_by": "crew report",
    }


def test_not_done_keeps_its_reason(case):
    case.gives_no_answer("Height", "not done", "no scale")
    case.says("Height", "not done, because no scale")
    case.keeps("patient.height", {"absent": "not_done", "because": "no scale"})


def test_back_to_not_asked(case):
    case.types("Height", "170")
    case.says("Height", "kept")
    case.gives_no_answer("Height", "not asked")
    case.says("Height", "not asked")
    assert case.value("patient.height") == {"absent": "not_asked"}
    expect(case.field("Height").get_by_role("textbox", name="Height")).to_have_value("")


def test_an_answer_takes_the_place_of_an_absence(case):
    case.gives_no_answer("Height", "not known")
    case.says("Height", "not known")
    case.types("Height", "170")
    case.says("Height", re.compile("^kept"))
    radio = case.field("Height").get_by_role("radio", name="not known")
    expect(radio).not_to_be_checked()


def test_an_absence_empties_the_controls(case):
    case.types("Height", "170")
    case.says("Height", "kept")
    case.gives_no_answer("Height", "not known")
    case.says("Height", "not known")
    expect(case.field("Height").get_by_role("textbox", name="Height")).to_have_value("")


def test_text_emptied_is_not_asked(case):
    case.types("Given name", "Test-Ines")
    case.says("Given name", "kept")
    case.types("Given name", "")
    case.keeps("patient.given_name", {"absent": "not_asked"})


def test_a_group_takes_absences_too(case):
    case.goes_to("Indication")
    case.gives_no_answer("Drug given", "not known")
    case.says("Drug given", "not known")
    assert case.value("indication.drugs_given") == {"absent": "not_known"}


def test_a_field_left_alone_keeps_nothing(case):
    box = case.field("Height").get_by_role("textbox", name="Height")
    box.focus()
    case.leaves(case.field("Height"))
    assert "patient.height" not in case.fold()["values"]


def test_four_states_are_four_pictures(case):
    case.picks("Identity known", "no")
    case.says("Identity known", "kept")
    no = case.field("Identity known").screenshot()
    case.gives_no_answer("Identity known", "not known")
    case.says("Identity known", "not known")
    not_known = case.field("Identity known").screenshot()
    case.gives_no_answer("Identity known", "not done", "asleep")
    case.says("Identity known", "not done")
    not_done = case.field("Identity known").screenshot()
    case.page.keyboard.press("Escape")
    case.gives_no_answer("Identity known", "not asked")
    case.says("Identity known", "not asked")
    not_asked = case.field("Identity known").screenshot()
    assert len({no, not_known, not_done, not_asked}) == 4


def test_the_panel_moves_no_key(case):
    case.field("Weight").scroll_into_view_if_needed()
    before = boxes(case)
    case.field("Weight").get_by_role(
        "button", name=re.compile("Weight: no answer")
    ).click()
    assert boxes(case) == before
    case.page.keyboard.press("Escape")
    expect(case.field("Weight").locator(".more")).to_be_hidden()
    assert boxes(case) == before


def test_who_and_when_stand_under_more(case):
    case.is_now("K. Ouse-Example", "nurse")
    case.types("Height", "170")
    case.says("Height", "kept")
    case.field("Height").get_by_role(
        "button", name=re.compile("Height: no answer")
    ).click()
    told = case.field("Height").locator(".history")
    expect(told).to_contain_text("170 cm")
    expect(told).to_contain_text("K. Ouse-Example, nurse")
    case.page.keyboard.press("Escape")


def boxes(case):
    """Where every key of the page stands."""
    return case.page.evaluate(
        """() => [...document.querySelectorAll(".part:not([hidden]) .choice, .part:not([hidden]) .key")]
          .filter((key) => !key.closest(".more") && key.offsetParent)
          .map((key) => { const b = key.getBoundingClientRect(); return [b.x, b.y, b.width, b.height]; })"""
    )
