"""One closed tablet, locked and opened again in every way a hand can try."""

from __future__ import annotations

from contextlib import suppress
from datetime import UTC, datetime, timedelta

import pytest
from playwright.sync_api import Error, Page, expect

from tests.support import lock
from tests.support.bedside import Bedside

FAMILY = "Zzyxander"
PIN = "4711"
WRONG_PINS = ("1111", "2222", "3333", "4444", "55555555")
STANDS = "#case:not([hidden]), #by-passphrase:not([hidden]), #by-pin:not([hidden])"
NO_PIN = """async () => {
  const { setPin } = await import("/static/js/sw-vault.js");
  await setPin("");
}"""
# What a look asked of the tablet's log before this is answered before this.
AFTER_A_LOOK = """async () => {
  const { openBase } = await import("/static/js/log/db.js");
  const { readMeta } = await import("/static/js/log/meta.js");
  const base = await openBase();
  await readMeta(base, "settings");
  base.close();
}"""
# A page that is behind another, or on a dark screen.
HIDDEN = """() => {
  Object.defineProperty(document, "visibilityState", { get: () => "hidden" });
  document.dispatchEvent(new Event("visibilitychange"));
}"""
# Ends the worker as the browser does when it needs the room.
STOP_WORKERS = "ServiceWorker.stopAllWorkers"
FAIL_WRITES = """() => {
  const begin = IDBDatabase.prototype.transaction;
  window.mend = () => void (IDBDatabase.prototype.transaction = begin);
  IDBDatabase.prototype.transaction = function (stores, mode, how) {
    if (mode === "readwrite" && [].concat(stores).includes("drafts"))
      throw new DOMException("no room", "QuotaExceededError");
    return begin.call(this, stores, mode, how);
  };
}"""


@pytest.fixture(scope="module")
def closed_tablet(standing, shared_browser):
    """A tablet with one case and a passphrase."""
    return lock.closed_tablet(shared_browser, standing.url, FAMILY)


@pytest.fixture
def tablet(closed_tablet):
    """The same in its case, unlocked by passphrase, without a PIN."""
    page = closed_tablet.page
    # Never the address it stands at: that would load nothing anew.
    page.goto("about:blank")
    page.goto(closed_tablet.address)
    expect(page.locator(STANDS)).to_have_count(1)
    if page.locator("#by-pin").is_visible():
        page.get_by_role("button", name="With the passphrase").click()
    if page.locator("#by-passphrase").is_visible():
        lock.unlocks(page)
    lock.is_open(page)
    page.evaluate(NO_PIN)
    expect(page.locator("#case-strip")).to_contain_text(FAMILY)
    closed_tablet.browser.problems.clear()
    yield closed_tablet
    for other in closed_tablet.browser.context.pages:
        if other != page:
            other.close()
    assert closed_tablet.problems == []


def sets_pin(tablet: Bedside) -> None:
    lock.locks(tablet.page)
    lock.unlocks(tablet.page, pin=PIN)
    lock.is_open(tablet.page)


def shows_nothing(page: Page) -> None:
    """The page stands at the lock, and tells no name anywhere."""
    lock.is_locked(page)
    assert FAMILY not in page.content()
    assert page.title() == "Wiremark"


def test_it_opens_again_in_the_same_place(tablet):
    tablet.goes_to("Consent")
    place = tablet.page.url.partition("#")[2]
    lock.locks(tablet.page)
    shows_nothing(tablet.page)
    lock.unlocks(tablet.page)
    lock.is_open(tablet.page)
    assert tablet.page.url.partition("#")[2] == place
    expect(tablet.page.locator("#case-strip")).to_contain_text(FAMILY)


def test_a_wrong_passphrase_is_said_plainly_and_loses_nothing(tablet):
    lock.locks(tablet.page)
    lock.unlocks(tablet.page, f"{lock.WORDS}s")
    expect(tablet.page.locator("#problem")).to_have_text(
        "This passphrase does not open the tablet. Nothing is lost."
    )
    lock.unlocks(tablet.page)
    lock.is_open(tablet.page)
    expect(tablet.page.locator("#case-strip")).to_contain_text(FAMILY)


def test_text_in_the_middle_of_being_typed_is_there_again(tablet):
    box = tablet.field("Given name").get_by_role("textbox", name="Given name")
    box.press_sequentially("Quillon")
    lock.locks(tablet.page)
    lock.unlocks(tablet.page)
    lock.is_open(tablet.page)
    expect(box).to_have_value("Quillon")


def test_a_row_in_the_middle_of_being_told_is_there_again(tablet):
    tablet.goes_to("Indication")
    tablet.adds("Drug given")
    tablet.types("Dose", "0.7")
    lock.locks(tablet.page)
    lock.unlocks(tablet.page)
    lock.is_open(tablet.page)
    sheet = tablet.page.get_by_role("dialog", name="Drug given")
    expect(sheet.get_by_role("textbox", name="Dose", exact=True)).to_have_value("0.7")
    tablet.keeps_row()


def test_back_forward_reload_and_a_new_tab_show_nothing(tablet):
    page = tablet.page
    tablet.goes_to("Consent")
    tablet.goes_to("Patient")
    lock.locks(page)
    for way in (page.go_back, page.go_back, page.go_forward):
        # The page gone back to leaves for the lock before it is loaded.
        with suppress(Error):
            way(wait_until="commit")
        shows_nothing(page)
    page.reload()
    shows_nothing(page)
    other = tablet.browser.opens(tablet.address)
    shows_nothing(other)
    other.close()
    far = tablet.browser.opens(tablet.address.partition("#")[0] + tablet.far)
    shows_nothing(far)
    far.close()


def test_a_second_window_locks_with_the_first_and_keeps_what_was_typed_in_it(tablet):
    other = tablet.browser.opens(tablet.address)
    lock.is_open(other)
    box = other.locator(
        "#part-patient [data-path='patient.given_name'] input.input"
    ).first
    box.fill("")
    box.press_sequentially("Corvane")
    lock.locks(tablet.page)
    shows_nothing(other)
    lock.unlocks(tablet.page)
    lock.is_open(tablet.page)
    # The other window hears that somebody is here.
    lock.is_open(other)
    expect(box).to_have_value("Corvane")
    other.close()


def test_a_pin_opens_it_and_says_how_in_what_is_entered(tablet):
    sets_pin(tablet)
    tablet.types("Family name", f"{FAMILY}-A")
    tablet.keeps("patient.family_name", f"{FAMILY}-A")
    lock.locks(tablet.page)
    expect(tablet.page.locator("#pin-person")).to_have_text(lock.NAME)
    lock.unlocks_by_pin(tablet.page, PIN)
    lock.is_open(tablet.page)
    tablet.types("Family name", FAMILY)
    tablet.keeps("patient.family_name", FAMILY)
    entries = sorted(tablet.fold()["entries"].values(), key=lambda one: one["seq"])
    names = [one for one in entries if one["path"] == "patient.family_name"]
    told = [(one["how"], one["author"]["name"]) for one in names]
    assert told[-2:] == [("passphrase", lock.NAME), ("pin", lock.NAME)]


def test_five_wrong_pins_leave_only_the_passphrase_whatever_is_done_between(tablet):
    page = tablet.page
    sets_pin(tablet)
    lock.locks(page)
    for left, pin in zip((4, 3, 2), WRONG_PINS, strict=False):
        lock.unlocks_by_pin(page, pin)
        expect(page.locator("#pin-problem")).to_contain_text(f"{left} tries left")
    # The tries are counted where no page can set them back.
    page.evaluate("localStorage.clear(); sessionStorage.clear()")
    page.reload()
    lock.unlocks_by_pin(page, WRONG_PINS[3])
    expect(page.locator("#pin-problem")).to_contain_text("One try left")
    other = tablet.browser.opens(tablet.address)
    lock.is_locked(other)
    lock.unlocks_by_pin(other, WRONG_PINS[4])
    expect(other.locator("#problem")).to_contain_text("wrong five times")
    other.close()
    page.reload()
    expect(page.locator("#by-passphrase")).to_be_visible()
    expect(page.locator("#by-pin")).to_be_hidden()


def test_many_tries_at_once_are_many_tries(tablet):
    page = tablet.page
    sets_pin(tablet)
    lock.locks(page)
    states = page.evaluate(
        """async (pins) => {
          const { tryPin } = await import("/static/js/sw-vault.js");
          return (await Promise.all(pins.map(tryPin))).map(({ state }) => state);
        }""",
        [*WRONG_PINS, PIN],
    )
    assert "open" not in states


def test_what_is_no_pin_is_said_and_costs_no_try(tablet):
    page = tablet.page
    sets_pin(tablet)
    lock.locks(page)
    lock.unlocks_by_pin(page, "12")
    expect(page.locator("#pin-problem")).to_have_text("A PIN has 4 to 8 digits.")
    lock.unlocks_by_pin(page, WRONG_PINS[0])
    expect(page.locator("#pin-problem")).to_contain_text("4 tries left")


def test_a_worker_that_was_ended_takes_key_and_pin_with_it(tablet):
    page = tablet.page
    sets_pin(tablet)
    lock.locks(page)
    session = page.context.new_cdp_session(page)
    session.send("ServiceWorker.enable")
    session.send(STOP_WORKERS)
    page.reload()
    expect(page.locator("#by-passphrase")).to_be_visible()
    expect(page.locator("#by-pin")).to_be_hidden()


def test_it_stays_open_and_says_why_when_something_is_not_kept(tablet):
    page = tablet.page
    box = tablet.field("Given name").get_by_role("textbox", name="Given name")
    page.evaluate(FAIL_WRITES)
    box.fill("Quillona")
    page.locator("[data-act=lock]:visible").click()
    expect(page.locator("#lock-said")).to_contain_text("Not locked")
    expect(box).to_have_value("Quillona")
    page.evaluate("mend()")
    page.get_by_role("button", name="Try again").click()
    tablet.keeps("patient.given_name", "Quillona")
    lock.locks(page)


def test_what_found_no_room_stays_on_its_sheet_and_is_kept_by_the_next_lock(tablet):
    page = tablet.page
    tablet.goes_to("Indication")
    tablet.adds("Drug given")
    dose = tablet.field("Dose").get_by_role("textbox", name="Dose")
    page.evaluate(FAIL_WRITES)
    dose.fill("0.5")
    page.locator("[data-act=lock]:visible").click()
    expect(page.locator("#lock-said")).to_contain_text("Not locked")
    expect(dose).to_have_value("0.5")
    # Nothing is typed again: the lock itself tries once more.
    page.evaluate("mend()")
    # By key: a second tap so soon after the first would be a tremble.
    page.locator("[data-act=lock]:visible").press("Enter")
    lock.is_locked(page)
    lock.unlocks(page)
    lock.is_open(page)
    expect(dose).to_have_value("0.5")
    page.locator("#sheet [data-act=drop-row]").click()


def opens_later(tablet: Bedside, hours: int = 0) -> Page:
    """Return another window of the tablet; a test moves the clock of all of them."""
    page = tablet.browser.context.new_page()
    page.clock.install(time=datetime.now(UTC) + timedelta(hours=hours))
    page.goto(tablet.address)
    lock.is_open(page)
    return page


def is_left_alone(page: Page, minutes: str) -> None:
    """Let time pass, and one look at how long nobody touched it."""
    page.clock.fast_forward(minutes)
    page.clock.run_for(6000)


def is_still_open(page: Page) -> None:
    """The look has been, and locked nothing."""
    page.evaluate(AFTER_A_LOOK)
    assert "/tablet/lock" not in page.url
    expect(page.locator("#case-strip")).to_contain_text(FAMILY)


def test_nobody_there_for_the_site_s_minutes_locks_it_later_while_a_case_runs(tablet):
    page = opens_later(tablet)
    is_left_alone(page, "25:00")
    is_still_open(page)
    page.mouse.click(5, 5)
    is_left_alone(page, "25:00")
    is_still_open(page)
    is_left_alone(page, "05:00")
    shows_nothing(page)
    # All windows of the tablet lock with the one that nobody touched.
    shows_nothing(tablet.page)
    page.close()


@pytest.mark.parametrize("is_behind", [False, True], ids=["no case", "behind"])
def test_the_fewer_minutes_count_without_a_case_and_behind_another_window(
    tablet, is_behind
):
    # Not a window of the tablet any more: it would be hours older at once, and lock.
    tablet.page.goto("about:blank")
    page = opens_later(tablet, hours=0 if is_behind else 3)
    if is_behind:
        page.evaluate(HIDDEN)
    is_left_alone(page, "02:00")
    is_still_open(page)
    is_left_alone(page, "03:00")
    shows_nothing(page)
    page.close()


def test_the_page_of_passphrases_left_alone_locks_too(tablet):
    # Not a window of the tablet any more: another one would know better.
    tablet.page.goto("about:blank")
    page = tablet.browser.context.new_page()
    page.clock.install()
    page.goto(tablet.address.partition("#")[0] + "passphrase")
    expect(page.locator("#pin-form")).to_be_visible()
    is_left_alone(page, "05:01")
    shows_nothing(page)
    page.close()
