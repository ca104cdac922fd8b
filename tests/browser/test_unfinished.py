"""Unfinished text is a draft from its first letter on: a reload or a kill loses none."""

import json

import pytest
from playwright.sync_api import expect

from tests.support.bedside import Bedside
from tests.support.browser import wait_until
from tests.support.full_disk import FULL, ROOM_AGAIN
from tests.support.tablet_database import HOLD_ENTRIES

GIVEN = "Given name"
PATH = "patient.given_name"
# Letters as a hand gives them, one a task, and the page goes in the next.
TYPE = """async ([label, letters, then, apart_ms]) => {
  const box = document.querySelector(`.part:not([hidden]) [data-path="${label}"] input.input`);
  box.focus();
  for (const letter of letters) {
    box.value += letter;
    box.dispatchEvent(new Event("input", { bubbles: true }));
    await new Promise((resolve) => setTimeout(resolve, apart_ms));
  }
  if (then === "reload") location.reload();
  if (then === "leave") box.blur();
}"""
# Counts the drafts that are being written at once.
SPY = """() => {
  window.flights = { now: 0, most: 0, all: 0 };
  const begin = IDBDatabase.prototype.transaction;
  IDBDatabase.prototype.transaction = function (stores, mode, how) {
    const tx = begin.call(this, stores, mode, how);
    if ([].concat(stores).join() === "drafts" && mode === "readwrite") {
      flights.all += 1;
      flights.most = Math.max(flights.most, (flights.now += 1));
      tx.addEventListener("complete", () => (flights.now -= 1));
    }
    return tx;
  };
}"""
DRAFTS = """async (record) => {
  const { openStore } = await import("/static/js/log/store.js");
  const store = await openStore();
  const drafts = await store.drafts(record);
  store.close();
  return drafts;
}"""


FOLD = """async (record) => {
  const { openStore } = await import("/static/js/log/store.js");
  const store = await openStore();
  const fold = await store.fold(record);
  store.close();
  return fold;
}"""


def box_of(case: Bedside):
    return case.field(GIVEN).get_by_role("textbox", name=GIVEN)


def types(case, letters, then="", apart_ms=0):
    case.page.evaluate(TYPE, [PATH, letters, then, apart_ms])


def drafts(case):
    return case.page.evaluate(DRAFTS, case.record)


def waits_for_draft(case, text):
    case.waits_for(
        f"(await ({DRAFTS})({json.dumps(case.record)}))[{json.dumps(PATH)}]"
        f"?.includes({json.dumps(text)})"
    )


@pytest.mark.parametrize("apart_ms", [0, 40])
def test_a_reload_in_the_task_after_the_last_letter_loses_none(bedside, apart_ms):
    bedside.starts_new()
    with bedside.page.expect_navigation(wait_until="load"):
        types(bedside, "Test-Ines of the harbour", "reload", apart_ms)
    bedside.is_open()
    expect(box_of(bedside)).to_have_value("Test-Ines of the harbour")


def test_keys_of_a_keyboard_and_a_reload_lose_no_letter(bedside):
    bedside.starts_new()
    box_of(bedside).click()
    bedside.page.keyboard.type("Test-Ines")
    bedside.reloads()
    expect(box_of(bedside)).to_have_value("Test-Ines")


def test_the_first_letter_is_written_without_any_wait(bedside):
    bedside.starts_new()
    bedside.page.clock.install()
    bedside.page.clock.pause_at("2031-11-24T10:41:00")
    box_of(bedside).press_sequentially("T")
    bedside.page.clock.resume()
    waits_for_draft(bedside, "T")


def test_one_draft_is_written_at_a_time_and_the_latest_last(bedside):
    bedside.starts_new()
    bedside.page.evaluate(SPY)
    types(bedside, "a" * 60 + "z")
    waits_for_draft(bedside, "a" * 60 + "z")
    flights = bedside.page.evaluate("flights")
    assert flights["most"] == 1
    assert 1 < flights["all"] <= 61


def test_a_text_that_became_an_entry_leaves_no_draft_behind(bedside):
    bedside.starts_new()
    for n in range(5):
        types(bedside, str(n), "leave")
        bedside.keeps(PATH, "01234"[: n + 1])
    assert drafts(bedside).keys() == {"who"}
    bedside.reloads()
    expect(box_of(bedside)).to_have_value("01234")
    expect(bedside.field(GIVEN).locator("[data-draft]")).to_have_count(0)


def test_letters_typed_while_the_entry_before_them_is_written_are_a_draft(bedside):
    bedside.starts_new()
    bedside.page.evaluate(HOLD_ENTRIES)
    types(bedside, "Test", "leave")
    types(bedside, "-Ines")
    waits_for_draft(bedside, "Test-Ines")
    bedside.page.evaluate("release()")
    bedside.keeps(PATH, "Test")
    waits_for_draft(bedside, "Test-Ines")
    bedside.reloads()
    expect(box_of(bedside)).to_have_value("Test-Ines")


def test_a_row_that_was_kept_does_not_come_back_as_one_to_be_kept(bedside):
    bedside.starts_new()
    bedside.goes_to("Indication")
    bedside.adds("Drug given")
    bedside.types("Dose", "0.5")
    bedside.keeps_row()
    assert drafts(bedside).keys() == {"who"}
    bedside.reloads()
    expect(bedside.page.locator("#sheet")).to_be_hidden()
    assert len(bedside.rows("indication.drugs_given")) == 1


def test_a_row_kept_at_the_second_try_is_told_no_more(bedside):
    page = bedside.page
    bedside.starts_new()
    bedside.goes_to("Indication")
    bedside.adds("Drug given")
    bedside.types("Dose", "0.5")
    page.evaluate(FULL)
    page.locator("#sheet [data-act=keep-row]").click()
    again = page.locator("#kept [data-act=again]")
    expect(again).to_be_visible()
    page.evaluate(ROOM_AGAIN)
    again.click()
    expect(page.locator("#sheet")).to_be_hidden()
    bedside.goes_to("Patient")
    assert drafts(bedside).keys() == {"who"}
    assert len(bedside.rows("indication.drugs_given")) == 1


def test_a_row_gone_on_with_before_the_second_try_stays_on_its_sheet(bedside):
    page = bedside.page
    bedside.starts_new()
    bedside.goes_to("Indication")
    bedside.adds("Drug given")
    bedside.types("Dose", "0.5")
    page.evaluate(FULL)
    page.locator("#sheet [data-act=keep-row]").click()
    again = page.locator("#kept [data-act=again]")
    expect(again).to_be_visible()
    page.evaluate(ROOM_AGAIN)
    bedside.types("Dose", "0.7")
    again.click()
    bedside.waits_for(
        f"(await (async () => {{ const fold = await ({FOLD})('{bedside.record}');"
        " return (fold.rows['indication.drugs_given'] ?? []).length; })()) === 1"
    )
    dose = bedside.field("Dose").get_by_role("textbox", name="Dose")
    expect(dose).to_have_value("0.7")
    bedside.waits_for(
        f"Object.values(await ({DRAFTS})('{bedside.record}'))"
        ".some((text) => text.includes('0.7'))"
    )
    bedside.reloads()
    expect(dose).to_have_value("0.7")


def test_an_answer_kept_at_the_second_try_is_put_right_by_the_next(bedside):
    page = bedside.page
    bedside.starts_new()
    page.evaluate(FULL)
    types(bedside, "Test-Inse", "leave")
    again = page.locator("#kept [data-act=again]")
    expect(again).to_be_visible()
    page.evaluate(ROOM_AGAIN)
    again.click()
    bedside.keeps(PATH, "Test-Inse")
    assert drafts(bedside).keys() == {"who"}
    box_of(bedside).fill("Test-Ines")
    bedside.leaves(bedside.field(GIVEN))
    bedside.keeps(PATH, "Test-Ines")
    assert drafts(bedside).keys() == {"who"}


def test_the_reason_of_a_strike_comes_back_after_a_kill(browser, standing):
    case = Bedside(browser, standing.url)
    case.starts_new()
    case.goes_to("Indication")
    case.adds("Drug given")
    case.types("Dose", "0.5")
    case.keeps_row()
    group = case.field("Drug given")
    group.locator("[data-act='strike']").click()
    reason = group.get_by_label("entered in error, because")
    reason.press_sequentially("another pat")
    # A tap elsewhere, and what arrives, leave it standing.
    case.picks("Compromise", "Shock")
    case.says("Compromise", "kept")
    expect(reason).to_have_value("another pat")
    case.waits_for(
        f"Object.values(await ({DRAFTS})('{case.record}')).includes('another pat')"
    )
    url = case.page.url
    browser.kill()
    page = browser.opens(url)
    again = page.get_by_role("group", name="Drug given", exact=True)
    expect(again.get_by_label("entered in error, because")).to_have_value("another pat")
    again.locator("[data-act='strike-now']").click()
    expect(again).to_contain_text("struck by nobody named: another pat")
    expect(again.locator(".row-strike")).to_have_count(0)
    wait_until(page, f"Object.keys(await ({DRAFTS})('{case.record}')).join() === 'who'")


@pytest.mark.parametrize("place", ["case", "start"])
def test_names_being_typed_come_back_after_a_kill(browser, standing, place):
    case = Bedside(browser, standing.url)
    case.starts_new()
    record = case.record
    if place == "start":
        case.goes_home()
    case.page.locator("[data-act='who']:visible").click()
    case.page.get_by_label("At this tablet: name").press_sequentially("K. Ouse-Ex")
    case.page.get_by_label("At this tablet: role").press_sequentially("nur")
    case.waits_for(
        f"Object.values(await ({DRAFTS})('{record}')).some((t) => t.includes('nur'))"
    )
    url = case.page.url
    browser.kill()
    page = browser.opens(url)
    page.locator("[data-act='who']:visible").click()
    expect(page.get_by_label("At this tablet: name")).to_have_value("K. Ouse-Ex")
    expect(page.get_by_label("At this tablet: role")).to_have_value("nur")
    if place == "case":
        expect(page.get_by_label("Whose observation: name")).to_have_value("")
    page.get_by_role("button", name="Leave it").click()
    wait_until(
        page, f"!Object.keys(await ({DRAFTS})('{record}')).includes('who#typing')"
    )
