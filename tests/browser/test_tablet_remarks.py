"""Remarks at the bedside: one in its place, the rest counted, each answerable once."""

import re

import pytest
from playwright.sync_api import expect

from tests.support.told_here import Told

FLOOR = "remarks.below_floor"
BAR = "#remark"


def left_at(told, wire, output):
    """Tell final settings read from the generator."""
    return told.adds(
        "",
        f"wires/{wire}/capture.dial_left_at",
        {"output": amount(output), "when_kind": "final"},
    )


def amount(figure, unit="mA"):
    return {"as": figure, "n": figure, "unit": unit}


@pytest.fixture
def case(bedside):
    """A case whose dial was left below the floor of the margin: 1.6 of 2.0."""
    bedside.goes_home()
    told = Told()
    wire = told.adds("", "wires", {"name": "Wire 1"})
    test = told.adds(
        "",
        f"wires/{wire}/capture.threshold_test",
        {"kind": "full", "set_output": amount("5")},
    )
    for output, result in (
        ("1.4", "captures"),
        ("1.2", "captures"),
        ("1.0", "no_capture"),
    ):
        told.adds(
            "",
            f"wires/{wire}/capture.output_reading",
            {"of": test, "output": amount(output), "result": result},
        )
    left_at(told, wire, "2.0")
    record = told.put(bedside.page)
    bedside.page.evaluate("(r) => { location.hash = `#/case/${r}/capture`; }", record)
    bedside.shows_fields("capture")
    expect(bedside.page.locator(f"{BAR} b")).to_have_text(
        "Look now: Margin 1.6 ×, below 2.0 ×"
    )
    return bedside


def opens_all(case):
    """Open the list of all remarks."""
    case.page.locator(f"{BAR} [data-act=remarks]").click()
    sheet = case.page.get_by_role("dialog", name="Remarks")
    expect(sheet).to_be_visible()
    return sheet


def on_floor(sheet):
    return sheet.locator("[data-code=below_floor]")


def test_the_heaviest_stands_in_its_place_with_its_source_and_the_rest_counted(case):
    bar = case.page.locator(BAR)
    expect(bar).to_contain_text("Lowest margin that holds: 2.0 ×")
    expect(bar).to_contain_text("Local protocol and the treating clinician decide.")
    expect(bar.get_by_role("button", name="All remarks")).to_have_text(
        re.compile(r"^\+ \d more$")
    )


def test_it_stands_beside_what_it_is_about_too(case):
    group = case.page.locator(".part:visible .group", has_text="Threshold test").first
    expect(group.locator(".field-remarks").first).to_contain_text("Margin 1.6 ×")


def test_look_now_is_said_in_every_part(case):
    case.goes_to("Consent")
    expect(case.page.locator(f"{BAR} b")).to_have_text(re.compile("^Look now: Margin"))


def test_chosen_otherwise_is_an_entry_with_reason_and_evidence_and_falls_silent(case):
    sheet = opens_all(case)
    on_floor(sheet).get_by_label("Because").fill("Twitches above 2 mA")
    on_floor(sheet).get_by_role("button", name="Seen, chose otherwise").click()
    expect(on_floor(sheet)).to_contain_text(
        "Seen, chose otherwise, because Twitches above 2 mA"
    )
    (kept,) = case.rows(FLOOR)
    assert kept["value"]["answer"] == "seen_otherwise"
    assert kept["value"]["because"] == "Twitches above 2 mA"
    assert len(kept["value"]["evidence"].split(" ")) == 5
    case.page.keyboard.press("Escape")
    expect(case.page.locator(f"{BAR} b")).not_to_contain_text("below 2.0 ×")
    case.reloads()
    expect(case.page.locator(f"{BAR} [data-act=remarks]")).to_be_visible()
    expect(case.page.locator(f"{BAR} b")).not_to_contain_text("below 2.0 ×")


def test_new_evidence_says_it_again(case):
    sheet = opens_all(case)
    on_floor(sheet).get_by_role("button", name="Seen, done as asked").click()
    expect(on_floor(sheet)).to_contain_text("Seen, done as asked")
    case.page.keyboard.press("Escape")
    case.is_now("M. Sogn-Example", "nurse")
    case.adds("Dial left at")
    case.types("Output", "1.8")
    case.keeps_row()
    expect(case.page.locator(f"{BAR} b")).to_have_text(
        "Look now: Margin 1.5 ×, below 2.0 ×"
    )


def test_a_reason_being_typed_outlives_the_page(case):
    sheet = opens_all(case)
    on_floor(sheet).get_by_label("Because").press_sequentially("Twitches above")
    case.page.wait_for_function(
        """async (r) => {
          const { openStore } = await import("/static/js/log/store.js");
          const store = await openStore();
          const drafts = Object.values(await store.drafts(r));
          store.close();
          return drafts.includes("Twitches above");
        }""",
        arg=case.record,
    )
    case.reloads()
    sheet = opens_all(case)
    expect(on_floor(sheet).get_by_label("Because")).to_have_value("Twitches above")


# Where everything that is shown of these lies.
PLACES = """(css) => [...document.querySelectorAll(css)].filter((e) => e.offsetParent)
  .map((e) => JSON.stringify(e.getBoundingClientRect()))"""


def told_but_for_answers(case):
    """What the log holds beside the answers to remarks: ids of rows, values by path."""
    fold = case.fold()
    rows = {path: [row["id"] for row in told] for path, told in fold["rows"].items()}
    told = {**rows, **fold["values"]}
    return {path: told[path] for path in told if not path.startswith("remarks.")}


def test_every_remark_accepted_moves_nothing_and_writes_no_setting(case):
    fixed = ".panel, .part-head, .rail a"
    told = told_but_for_answers(case)
    assert any(path.endswith("capture.dial_left_at") for path in told)
    before = case.page.evaluate(PLACES, fixed)
    sheet = opens_all(case)
    items = sheet.locator("li[data-code]:has(.remark-keys button)")
    codes = [item.get_attribute("data-code") for item in items.all()]
    for code in codes:
        item = sheet.locator(f"[data-code={code}]")
        item.get_by_role("button", name="Seen, done as asked").click()
        expect(item.locator(".remark-answer")).to_be_visible()
    case.page.keyboard.press("Escape")
    expect(case.page.locator(f"{BAR} .remark")).not_to_have_attribute(
        "data-weight", "look_now"
    )
    assert case.page.evaluate(PLACES, fixed) == before
    # clinical.md V6: only a person who read the generator writes settings.
    assert len(case.rows(FLOOR)) == 1
    assert told_but_for_answers(case) == told


def test_pacing_checks_say_what_is_due_next(case):
    case.goes_to("Pacing checks")
    due = case.page.get_by_role("list", name="Due next")
    expect(due).to_contain_text(re.compile(r"Threshold test .*\d{1,2}:\d{2} · in 23 h"))


@pytest.fixture
def busy(case):
    """The same, on a page that has something else to do all the time."""
    case.page.evaluate(
        """() => {
          window.idle = window.requestIdleCallback;
          window.requestIdleCallback = () => 0;
        }"""
    )
    yield case
    case.page.evaluate("() => (window.requestIdleCallback = window.idle)")


def test_nothing_found_in_one_case_stands_in_another(busy):
    expect(busy.page.locator(".part .field-remarks").first).to_be_attached()
    busy.goes_home()
    busy.starts_new()
    expect(busy.page.locator(f"{BAR} b")).to_have_count(0)
    expect(busy.page.locator(f"{BAR} [data-act=remarks]")).to_have_count(0)
    expect(busy.page.locator(".part .field-remarks")).to_have_count(0)
