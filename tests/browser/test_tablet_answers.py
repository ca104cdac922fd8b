"""Two answers stand side by side until a person settles them; drafts are recovered."""

import pytest
from playwright.sync_api import expect

from tests.support.bedside import Bedside
from tests.support.full_disk import FULL, ROOM_AGAIN

SEX = "Sex for clinical use"


@pytest.fixture
def case(bedside):
    """A case in which two people answered one question unseen."""
    bedside.starts_new()
    bedside.picks(SEX, "Female")
    bedside.says(SEX, "kept")
    bedside.somebody_else_says("patient.sex", "male", "O. Fell-Example")
    expect(bedside.field(SEX)).to_have_attribute("data-state", "two_answers")
    return bedside


def test_both_answers_are_shown_with_who_said_them(case):
    answers = case.field(SEX).locator(".answers")
    expect(answers).to_contain_text("Two answers. Which stands?")
    expect(answers).to_contain_text("Female")
    expect(answers).to_contain_text("Male")
    expect(answers).to_contain_text("O. Fell-Example, nurse")


def test_one_tap_settles_which_stands(case):
    case.field(SEX).get_by_role("button", name="This one: Male").click()
    case.keeps("patient.sex", "male")
    expect(case.field(SEX)).to_have_attribute("data-state", "ok")


def test_any_other_answer_settles_both(case):
    case.picks(SEX, "Unknown")
    case.keeps("patient.sex", "unknown")


def test_two_answers_are_an_open_question_in_finish(case):
    case.goes_to("Finish")
    line = case.page.get_by_role("link", name=f"{SEX} two answers")
    expect(line).to_be_visible()
    line.click()
    expect(case.field(SEX)).to_be_in_viewport()


def test_the_strip_shows_both_names_with_or(case):
    case.types("Family name", "ALDERMERE")
    case.says("Family name", "kept")
    case.somebody_else_says("patient.family_name", "ALDERMORE", "O. Fell-Example")
    name = case.page.locator("#case-strip .who-name")
    expect(name).to_have_text("ALDERMERE or ALDERMORE")


def test_unfinished_text_comes_back_after_a_kill(browser, standing):
    case = Bedside(browser, standing.url)
    case.starts_new()
    url, record = case.page.url, case.record
    case.field("Given name").get_by_role("textbox", name="Given name").fill("Test-In")
    case.waits_for(
        f"""(await (async () => {{
          const {{ openStore }} = await import("/static/js/log/store.js");
          const store = await openStore();
          const drafts = await store.drafts("{record}");
          store.close();
          return "patient.given_name" in drafts;
        }})())"""
    )
    browser.kill()
    again = browser.opens(url)
    box = again.get_by_role("textbox", name="Given name", exact=True)
    expect(box).to_have_value("Test-In")


def test_a_failed_write_says_so_and_holds_the_value(bedside):
    bedside.starts_new()
    bedside.page.evaluate(FULL)
    bedside.types("Given name", "Test-Ines")
    alert = bedside.page.get_by_role("alert")
    expect(alert).to_contain_text("NOT kept: Test-Ines")
    box = bedside.field("Given name").get_by_role("textbox", name="Given name")
    expect(box).to_have_value("Test-Ines")
    bedside.page.evaluate(ROOM_AGAIN)
    bedside.page.get_by_role("button", name="Try again").click()
    bedside.keeps("patient.given_name", "Test-Ines")


def test_what_was_not_kept_is_tried_again_in_its_own_case(bedside):
    bedside.starts_new()
    first, address = bedside.record, bedside.page.url
    bedside.page.evaluate(FULL)
    bedside.page.locator(".danger-arrest").click()
    again = bedside.page.get_by_role("button", name="Try again")
    expect(again).to_be_visible()
    bedside.page.evaluate(ROOM_AGAIN)
    bedside.picks(SEX, "Female")
    alert = bedside.page.locator("#kept [role=alert]")
    expect(bedside.page.locator("#kept [role=status]")).to_contain_text("Female")
    expect(alert).to_contain_text("NOT kept: no pulse")
    bedside.goes_home()
    bedside.starts_new()
    assert bedside.record != first
    expect(alert).to_contain_text("NOT kept in Case")
    again.click()
    expect(alert).to_be_hidden()
    assert bedside.rows("indication.arrest") == []
    bedside.page.goto(address)
    bedside.is_open()
    assert len(bedside.rows("indication.arrest")) == 1


def test_a_strike_key_ends_with_its_case(bedside):
    bedside.starts_now()
    bedside.page.locator(".danger-arrest").click()
    strike = bedside.page.locator("#kept [data-act=strike-kept]")
    expect(strike).to_be_visible()
    bedside.goes_home()
    bedside.starts_new()
    expect(strike).to_have_count(0)


def test_who_is_here_comes_back_after_a_kill(browser, standing):
    case = Bedside(browser, standing.url)
    case.is_now("K. Ouse-Example", "nurse")
    case.starts_new()
    url = case.page.url
    browser.kill()
    again = browser.opens(url)
    expect(again.locator("#case-strip [data-act='who']")).to_contain_text(
        "K. Ouse-Example"
    )


def test_what_arrives_while_somebody_types_is_not_replaced_unseen(case):
    box = case.field("Family name").get_by_role("textbox", name="Family name")
    box.fill("ALDERMERE")
    case.somebody_else_says("patient.family_name", "BRANDNESS", "N. Ness-Example")
    case.keeps("patient.family_name", "BRANDNESS")
    case.leaves(case.field("Family name"))
    expect(case.field("Family name").locator(".answers")).to_be_visible()
    assert sorted(case.value("patient.family_name")) == ["ALDERMERE", "BRANDNESS"]
