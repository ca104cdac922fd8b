"""Wristbands: what a scan fills, stamps, asks and never does."""

from itertools import count

import pytest
from playwright.sync_api import expect

from tests.support.bedside import WHO_NOW
from tests.support.scanner import Scanner

NUMBER = "patient.record_number"
AGAIN = "patient.wristband_reread"
# The tablet is shared by the tests, and knows the bands of the cases before.
NUMBERS = (f"00{n}" for n in count(417220))


@pytest.fixture
def case(bedside):
    """A new case about which nothing is known."""
    bedside.starts_new()
    return bedside


@pytest.fixture
def number():
    """A number that no case on this tablet has, with leading zeros."""
    return next(NUMBERS)


@pytest.fixture
def scanner(open_tablet):
    return Scanner(open_tablet.page)


@pytest.fixture
def question(open_tablet):
    yield open_tablet.page.locator("dialog.band")
    open_tablet.page.keyboard.press("Escape")


def answers(case):
    """Every path of the case that says something, with its values."""
    return {path: [h["value"] for h in v] for path, v in case.fold()["values"].items()}


def numbered(case, number):
    case.types("Record number", number)
    case.keeps(NUMBER, number)


def test_a_scan_fills_an_empty_number_with_its_leading_zeros(case, scanner, number):
    scanner.scans(number)
    case.keeps(NUMBER, number)
    case.keeps("patient.wristband_how", "scan")
    expect(case.page.locator("#case-strip")).to_contain_text(
        f"no. {number} · band read"
    )


@pytest.mark.parametrize(
    "place",
    ["text", "prose", "number", "choice", "key", "nothing", "row"],
)
def test_a_scan_never_lands_where_the_focus_is(case, scanner, place, number):
    page = case.page
    part, box = {
        "text": ("Patient", case.field("Family name").locator("input.input").first),
        "prose": ("Indication", case.field("Why now").locator("textarea")),
        "number": ("Patient", case.field("Weight").locator(".qty")),
        "choice": ("Patient", case.field("Identity known").get_by_label("yes")),
        "key": ("Patient", page.locator("#case-strip [data-act='cases']")),
        "nothing": ("Patient", page.locator("#part-patient")),
        "row": ("Indication", page.locator("#sheet textarea").first),
    }[place]
    case.goes_to(part)
    if place == "row":
        case.adds("Event or finding")
    isa = place in ("text", "prose", "row")
    if isa:
        box.fill("typed before")
    box.focus()
    scanner.scans(number)
    case.keeps(NUMBER, number)
    if isa:
        expect(box).to_have_value("typed before")
    elif place == "number":
        expect(box).to_have_value("")
    case.leaves(page.locator("#case"))
    told = answers(case)
    assert set(told) - {"indication.why_now", "patient.family_name"} == {
        "patient.case_code",
        "patient.start",
        NUMBER,
        "patient.wristband_read",
        "patient.wristband_how",
    }
    assert number not in str({k: v for k, v in told.items() if k != NUMBER})
    expect(page.locator("#case")).to_be_visible()
    if place == "row":
        page.get_by_role("button", name="Discard").click()


def test_the_same_keys_by_a_hand_are_typing(case, scanner, number):
    box = case.field("Record number").locator("input.input").first
    box.focus()
    scanner.types_by_hand(number)
    expect(box).to_have_value(number)
    case.leaves(case.field("Record number"))
    case.keeps(NUMBER, number)
    assert "patient.wristband_read" not in case.fold()["values"]


@pytest.mark.parametrize("prefix", ["]C0", "]Q3"], ids=["bars", "square"])
def test_what_a_scanner_puts_round_a_number_is_no_part_of_it(
    case, scanner, prefix, number
):
    scanner.scans(number, prefix=prefix, line_feed=True)
    case.keeps(NUMBER, number)


def test_the_same_band_again_is_one_stamp_and_nothing_else(case, scanner, number):
    scanner.scans(number)
    case.keeps("patient.wristband_how", "scan")
    before = answers(case)
    scanner.scans(number)
    expect(
        case.page.locator("[data-path='patient.wristband_reread'] .group-row")
    ).to_have_count(1)
    assert answers(case) == before
    (row,) = case.rows(AGAIN)
    assert (row["value"]["result"], row["value"]["how"]) == ("same", "scan")


def test_a_typed_number_is_no_band_until_the_band_is_read(case, scanner, number):
    numbered(case, number)
    strip = case.page.locator("#case-strip")
    expect(strip).to_contain_text(f"no. {number} · no band yet")
    scanner.scans(number)
    expect(strip).to_contain_text(f"no. {number} · band read")
    assert case.rows(AGAIN) == []


def test_at_the_time_out_the_band_is_one_of_the_identifiers(case, scanner, number):
    numbered(case, number)
    case.goes_to("Consent")
    case.picks("Two identifiers", "Name")
    case.keeps("consent.time_out_identifiers", ["name"])
    scanner.scans(number)
    case.keeps("consent.time_out_identifiers", ["name", "wristband"])


def test_another_band_asks_with_both_identities_and_changes_nothing(
    case, scanner, question, number
):
    case.types("Family name", "ALDERMERE")
    numbered(case, number)
    before = case.fold()
    scanner.scans("00417221")
    expect(question).to_be_visible()
    for said in ("Different wristband", "ALDERMERE", number, "00417221"):
        expect(question).to_contain_text(said)
    screen, box = case.page.viewport_size, question.bounding_box()
    assert (box["width"], box["height"]) == (screen["width"], screen["height"])
    assert case.fold() == before
    question.get_by_role("button", name="Leave it").click()
    expect(question).to_be_hidden()
    assert case.fold() == before


def test_nothing_behind_the_question_is_reached(case, scanner, question, number):
    numbered(case, number)
    scanner.scans("00417221")
    expect(question).to_be_visible()
    for _ in range(8):
        case.page.keyboard.press("Tab")
        assert case.page.evaluate(
            "document.activeElement === document.body"
            " || document.querySelector('dialog.band').contains(document.activeElement)"
        )


def test_this_record_corrected_keeps_the_old_number_in_its_history(
    case, scanner, question, number
):
    numbered(case, number)
    scanner.scans("00417221")
    question.get_by_role("button", name="Correct this record").click()
    case.keeps(NUMBER, "00417221")
    case.keeps("patient.wristband_how", "scan")
    told = [e for e in case.fold()["entries"].values() if e["path"] == NUMBER]
    assert len(told) == 2
    assert [row["value"]["result"] for row in case.rows(AGAIN)] == ["different"]


def test_another_patient_gets_a_case_and_this_one_stays_as_it_is(
    case, scanner, question, number
):
    numbered(case, number)
    first, before = case.page.url, answers(case)
    scanner.scans("9900417")
    question.get_by_role("button", name="Another patient").click()
    expect(case.page.locator("#case-strip")).to_contain_text("no. 9900417 · band read")
    assert case.page.url != first
    case.keeps("patient.start", "wristband")
    case.page.goto(first)
    expect(case.page.locator("#case-strip")).to_contain_text(f"no. {number}")
    assert answers(case) == before
    assert [row["value"]["result"] for row in case.rows(AGAIN)] == ["different"]


def test_a_case_begun_over_an_open_one_says_who_it_is_now(
    case, scanner, question, number
):
    numbered(case, number)
    held = case.page.locator("#case[inert]")
    # The page's own tap on that screen would hide what is asked here.
    case.page.remove_locator_handler(case.page.locator(WHO_NOW))
    scanner.scans("9900418")
    question.get_by_role("button", name="Another patient").click()
    who = case.page.locator(WHO_NOW)
    expect(who).to_be_enabled()
    expect(who).to_contain_text("no. 9900418")
    expect(case.page.locator(".switch .switch-not")).to_contain_text(number)
    expect(held).to_have_count(1)
    who.click()
    case.page.add_locator_handler(case.page.locator(WHO_NOW), case._goes_on)
    expect(held).to_have_count(0)
    expect(case.page.locator("#case-strip")).to_contain_text("no. 9900418")


def test_the_band_of_another_case_is_asked_about_even_where_the_number_is_empty(
    bedside, scanner, question
):
    bedside.starts_new()
    bedside.types("Family name", "BRANDNESS")
    numbered(bedside, "5500417")
    bedside.goes_home()
    bedside.starts_new()
    here = bedside.page.url
    scanner.scans("5500417")
    expect(question).to_contain_text("This wristband is in another case")
    expect(question).to_contain_text("BRANDNESS")
    assert NUMBER not in bedside.fold()["values"]
    question.get_by_role("button", name="Another patient").click()
    expect(bedside.page.locator("#case-strip")).to_contain_text("BRANDNESS")
    assert bedside.page.url != here


@pytest.mark.parametrize(
    "code",
    ["=W00001260000", "&>00012", "0112345678901231", "(01)12345678901231"],
    ids=["blood", "blood, second", "drug", "drug as printed"],
)
def test_a_code_of_a_drug_or_of_blood_is_refused_and_said(case, scanner, code):
    before = case.fold()
    scanner.scans(code)
    alert = case.page.get_by_role("alert").filter(has_text="not on a wristband")
    expect(alert).to_be_visible()
    assert case.fold() == before


def test_a_scan_on_start_opens_the_case_that_has_the_band(bedside, scanner):
    bedside.starts_new()
    numbered(bedside, "7700417")
    bedside.goes_home()
    scanner.scans("7700417")
    expect(bedside.page.locator("#case")).to_be_visible()
    expect(bedside.page.locator("#case-strip")).to_contain_text("no. 7700417")


def test_a_scan_on_start_that_no_case_has_begins_one_only_when_told(
    bedside, scanner, question
):
    scanner.scans("8800417")
    expect(question).to_contain_text("A wristband of no case on this tablet")
    question.get_by_role("button", name="Begin a case").click()
    expect(bedside.page.locator("#case-strip")).to_contain_text("no. 8800417")
    bedside.keeps("patient.start", "wristband")
    bedside.keeps("patient.wristband_how", "scan")
