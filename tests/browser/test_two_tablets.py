"""Two tablets at one bedside, each in a browser of its own, and the server between."""

import pytest
from playwright.sync_api import expect

from tests.support.bedside import Bedside
from tests.support.joining import JOINS
from tests.support.main_job import NETWORK_COMES_AND_GOES, enrols

SEX = "Sex for clinical use"


@pytest.fixture
def pair(browser, second_browser, live, db):
    """Two tablets on one case, the server stopped."""
    made = []
    for number, one in enumerate((browser, second_browser), 1):
        enrols(one, live, db, f"Tablet {number}").close()
        made.append(Bedside(one, live.url))
    first, second = made
    first.starts_new()
    second.page.evaluate(JOINS, first.record)
    second.page.goto(first.page.url)
    expect(second.field(SEX)).to_be_visible()
    live.stop()
    for tablet in made:
        tablet.page.evaluate(NETWORK_COMES_AND_GOES)
    return first, second


def shows(tablets, state):
    for tablet in tablets:
        field = tablet.field(SEX)
        expect(field).to_have_attribute("data-state", state, timeout=90_000)


def test_two_answers_given_unseen_stand_on_both_and_are_settled_on_both(pair, live):
    first, second = pair
    first.picks(SEX, "Female")
    first.says(SEX, "kept")
    second.picks(SEX, "Male")
    second.says(SEX, "kept")
    live.start()
    shows(pair, "two_answers")
    for tablet in pair:
        answers = tablet.field(SEX).locator(".answers")
        expect(answers).to_contain_text("Two answers. Which stands?")
        for said in ("Female", "Male"):
            expect(answers).to_contain_text(said)
    first.field(SEX).get_by_role("button", name="This one: Male").click()
    shows(pair, "ok")
    for tablet in pair:
        tablet.keeps("patient.sex", "male")
    assert first.fold()["values"] == second.fold()["values"]
