"""Moments of a case, one tap away from each part: a tap keeps one with its time."""

import re

import pytest
from playwright.sync_api import expect

from tests.support.full_disk import FULL, ROOM_AGAIN


@pytest.fixture
def case(bedside):
    bedside.starts_now()
    return bedside


def opens(case):
    case.page.locator("[data-act=moments]").click()
    sheet = case.page.get_by_role("dialog", name="Moments")
    expect(sheet).to_be_visible()
    return sheet


def told(case, count):
    case.waits_for(
        f"""(await (async () => {{
          const {{ openStore }} = await import("/static/js/log/store.js");
          const store = await openStore();
          const fold = await store.fold("{case.record}");
          store.close();
          return (fold.rows.moments ?? []).length === {count};
        }})())"""
    )
    return case.rows("moments")


def test_a_moment_is_two_taps_from_every_part_and_stands_on_the_ruler(case):
    for n, part in enumerate(("Advance", "Capture", "Pacing checks"), start=1):
        case.goes_to(part)
        sheet = opens(case)
        sheet.get_by_role("button", name="Cardiology called").click()
        expect(sheet).to_be_hidden()
        expect(case.page.locator("#kept")).to_contain_text("Cardiology called")
        # The decision to pace is the first.
        row = told(case, n + 1)[-1]["value"]
        assert row["name"] == "cardiology_called"
        assert row["moment"]["certainty"] == "exact"
    expect(case.page.locator("#case-time")).to_contain_text("cardiology called")
    expect(opens(case).locator("[data-moment=cardiology_called] small")).to_have_text(
        re.compile(r"\d{2}:\d{2}")
    )


def test_what_was_some_minutes_ago_is_kept_as_about_then(case):
    sheet = opens(case)
    sheet.get_by_role("button", name="10 min ago").click()
    sheet.get_by_role("button", name="Senior called").click()
    decided, called = (row["value"]["moment"] for row in told(case, 2))
    assert called["certainty"] == "about"
    assert called["utc"] < decided["utc"]


def test_another_moment_is_kept_in_its_words_and_outlives_the_page(case):
    case.goes_to("Capture")
    opens(case).get_by_label("another moment, in words").fill("Lights failed")
    case.waits_for(
        f"""(await (async () => {{
          const {{ openStore }} = await import("/static/js/log/store.js");
          const store = await openStore();
          const drafts = Object.values(await store.drafts("{case.record}"));
          store.close();
          return drafts.includes("Lights failed");
        }})())"""
    )
    case.reloads()
    sheet = opens(case)
    expect(sheet.get_by_label("another moment, in words")).to_have_value(
        "Lights failed"
    )
    sheet.get_by_role("button", name="Keep", exact=True).click()
    assert told(case, 2)[-1]["value"]["name"] == {"other": "Lights failed"}
    expect(opens(case).get_by_label("another moment, in words")).to_have_value("")


def test_words_kept_at_the_second_try_are_no_draft_any_more(case):
    page = case.page
    opens(case).get_by_label("another moment, in words").fill("Lights failed")
    page.evaluate(FULL)
    page.get_by_role("button", name="Keep", exact=True).click()
    again = page.locator("#kept [data-act=again]")
    expect(again).to_be_visible()
    page.evaluate(ROOM_AGAIN)
    again.click()
    assert told(case, 2)[-1]["value"]["name"] == {"other": "Lights failed"}
    # Another part: whatever is unfinished is written.
    case.goes_to("Capture")
    expect(opens(case).get_by_label("another moment, in words")).to_have_value("")
    case.reloads()
    expect(opens(case).get_by_label("another moment, in words")).to_have_value("")


def test_after_turning_a_look_is_due_and_says_why(case):
    case.goes_to("Capture")
    case.is_now("M. Sogn-Example", "nurse")
    case.adds("Dial left at")
    case.picks("Which settings", "Final settings")
    case.types("Output", "5")
    case.keeps_row()
    sheet = opens(case)
    sheet.get_by_role("button", name="Turned in bed").click()
    told(case, 2)
    case.goes_to("Pacing checks")
    due = case.page.get_by_role("list", name="Due next")
    expect(due).to_contain_text(
        re.compile(r"Look-check .*\d{1,2}:\d{2} · in (29|30) min · after turning")
    )
