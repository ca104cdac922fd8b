"""Settings are read off a generator by somebody: no row of them without a name.

Source: clinical.md section 10 ("by a named person") and V6 of section 27.
"""

import pytest
from playwright.sync_api import expect

from tests.support.live_capture import Live

ASKED = "Settings carry the name of the person who read them."
LEFT = "capture.dial_left_at"


@pytest.fixture
def nameless(bedside):
    """The tablet with nobody named at it."""
    bedside.is_now("", "")
    return bedside


def asks(page):
    return page.get_by_role("dialog", name="Who is here")


def names(page, name):
    sheet = asks(page)
    expect(sheet).to_contain_text(ASKED)
    sheet.get_by_label("At this tablet: name").fill(name)
    sheet.get_by_role("button", name="These from now on").click()
    expect(sheet).to_be_hidden()


def readers(case):
    """The names beside each row of settings: of its entry, and inside it."""
    wire = case.rows("wires")[0]["id"]
    fold = case.fold()
    rows = fold["rows"].get(f"wires/{wire}/{LEFT}", [])
    return [
        (fold["entries"][row["id"]]["author"]["name"], row["value"].get("read_back_by"))
        for row in rows
    ]


def test_live_settings_wait_for_a_name_and_lose_nothing(nameless):
    live = Live(nameless, by="")
    live.reads_back("5", ("rate", "80"))
    live.taps_on("keep-read")
    sheet = asks(live.page)
    expect(sheet).to_contain_text(ASKED)
    sheet.get_by_role("button", name="Leave it").click()
    expect(live.key("keep-read")).not_to_have_attribute("data-none", "")
    assert live.rows(LEFT) == []
    live.taps_on("keep-read")
    # "These from now on" without a name is no name.
    asks(live.page).get_by_role("button", name="These from now on").click()
    assert live.rows(LEFT) == []
    live.case.reloads()
    live.opens()
    keep = live.page.locator("#sheet").get_by_role("button", name="Keep", exact=True)
    expect(keep).to_be_visible()
    keep.click()
    names(live.page, "M. Sogn-Example")
    expect(live.page.locator("#sheet")).to_be_hidden()
    assert readers(live.case) == [("M. Sogn-Example", None)]
    (row,) = live.rows(LEFT)
    assert [row["value"][name]["n"] for name in ("output", "rate")] == ["5", "80"]


def test_a_name_given_keeps_the_live_settings_at_once(nameless):
    live = Live(nameless, by="")
    live.reads_back("5")
    live.taps_on("keep-read")
    names(live.page, "M. Sogn-Example")
    expect(live.key("keep-read")).to_have_attribute("data-none", "")
    live.offers("3.4")
    assert readers(live.case) == [("M. Sogn-Example", None)]


def test_a_row_of_settings_waits_for_a_name_and_is_kept_once(nameless):
    nameless.starts_now()
    nameless.goes_to("Capture")
    nameless.adds("Dial left at")
    nameless.types("Output", "5")
    sheet = nameless.page.locator("#sheet")
    sheet.get_by_role("button", name="Keep", exact=True).click()
    names(nameless.page, "M. Sogn-Example")
    expect(sheet).to_be_hidden()
    assert readers(nameless) == [("M. Sogn-Example", None)]


def test_a_reader_named_in_the_row_is_enough(nameless):
    nameless.starts_now()
    nameless.goes_to("Capture")
    nameless.adds("Dial left at")
    nameless.types("Output", "5")
    sheet = nameless.page.locator("#sheet")
    sheet.get_by_label("name: Read back by").fill("T. Fjære-Example")
    nameless.keeps_row()
    ((author, read_by),) = readers(nameless)
    assert author == ""
    assert read_by["name"] == "T. Fjære-Example"
