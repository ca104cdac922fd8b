"""A locked tablet goes on sending, is given nothing, and a newer worker keeps its key."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from tests.support import lock
from tests.support.bedside import Bedside
from tests.support.browser import wait_until
from tests.support.releases import (
    READINESS,
    READY,
    copied,
    looks_for_update,
    publish,
)
from tests.support.syncing import HOLD_SENDING, entries, head_of
from webapp.people import tablets

FAMILY = "Zzyxander"
# As a record's key that was made before any server was known.
BARE_KEY = """async (record) => {
  const { openBase } = await import("/static/js/log/db.js");
  const { result } = await import("/static/js/log/transaction.js");
  const base = await openBase();
  const had = await base.transact(["keys"], "readwrite", async (tx) => {
    const rows = await result(tx.objectStore("keys").getAll());
    const [row] = rows.filter((one) => one.record === record);
    tx.objectStore("keys").put({ ...row, wrap_server: null });
    return row.wrap_server !== null;
  });
  base.close();
  return had;
}"""


def enrols(page, url: str, db) -> None:
    _, code = tablets.add(db, "tablet 1")
    page.goto(f"{url}/tablet/enrol")
    page.get_by_label("Code").fill(code)
    page.get_by_role("button", name="Enrol").click()
    lock.is_open(page)


def without_wrap(page, record: str) -> None:
    """Take the record's wrap away, until the page is left: a round would make it anew."""
    page.evaluate(HOLD_SENDING)
    assert page.evaluate(BARE_KEY, record)


@pytest.fixture
def tablet(live, browser, db):
    """An enrolled tablet with a case and a passphrase; the server is away."""
    made = Bedside(browser, live.url)
    enrols(made.page, live.url, db)
    lock.sets_passphrase(made.page, live.url)
    made.page.get_by_role("link", name="Go to the cases").click()
    lock.is_open(made.page)
    made.can_do_without_server()
    live.stop()
    made.starts_now()
    made.types("Family name", FAMILY)
    made.keeps("patient.family_name", FAMILY)
    made.address = made.page.url
    return made


def test_the_offer_stands_there_straight_after_enrolment(live, browser, db):
    page = browser.opens(f"{live.url}/tablet/enrol")
    enrols(page, live.url, db)
    offer = page.get_by_role("link", name="Set a passphrase")
    expect(offer).to_be_visible()
    offer.click()
    expect(page.locator("#words")).to_have_text(re.compile(r"^\w+ \w+ \w+ \w+$"))


def test_a_locked_tablet_sends_what_was_entered_and_is_given_nothing(tablet, live, db):
    page = tablet.page
    record, sent = tablet.record, set(tablet.fold()["order"])
    lock.locks(page)
    expect(page.locator("#stands")).to_contain_text("none sent yet")
    with page.expect_request("**/sync") as asked:
        live.start()
    expect(page.locator("#stands")).to_contain_text("On the server")
    assert {row["id"] for row in entries(db, record)} == sent
    given = head_of(asked.value.post_data_buffer or b"")["open"]
    assert [one["since"] for one in given if one["record"] == record] == [2**53 - 1]
    assert FAMILY not in page.content()
    enrolling = tablet.browser.opens(f"{live.url}/tablet/enrol")
    expect(enrolling.locator(".enrol-state")).to_contain_text("This tablet is tablet 1")
    enrolling.close()
    lock.unlocks(page)
    lock.is_open(page)
    expect(page.locator("#case-strip")).to_contain_text(FAMILY)


def test_what_has_no_wrap_for_the_server_waits_and_holds_up_nothing(tablet, live, db):
    page, bare = tablet.page, tablet.record
    tablet.goes_home()
    tablet.starts_now()
    tablet.types("Family name", "Yaxleyan")
    tablet.keeps("patient.family_name", "Yaxleyan")
    other = tablet.record
    sent = tablet.fold()["order"]
    without_wrap(page, bare)
    lock.locks(page)
    live.start()
    # Some are sent, and some are not: those of the other case.
    expect(page.locator("#stands")).to_have_text(
        re.compile(r"\d of \d+ entries not sent")
    )
    assert {row["id"] for row in entries(db)} == set(sent)
    assert {row["record"] for row in entries(db)} == {other}
    lock.unlocks(page)
    lock.is_open(page)
    expect(page.locator("[data-act=storage]:visible")).to_contain_text("On the server")
    assert {row["record"] for row in entries(db)} > {other}


def test_keys_without_a_wrap_for_the_server_get_one_with_the_first_passphrase(
    live, browser, db
):
    made = Bedside(browser, live.url)
    enrols(made.page, live.url, db)
    made.can_do_without_server()
    live.stop()
    made.starts_now()
    made.types("Family name", FAMILY)
    made.keeps("patient.family_name", FAMILY)
    record = made.record
    without_wrap(made.page, record)
    lock.sets_passphrase(made.page, live.url)
    made.page.get_by_role("link", name="Go to the cases").click()
    lock.is_open(made.page)
    lock.locks(made.page)
    live.start()
    expect(made.page.locator("#stands")).to_contain_text("On the server")
    assert len(entries(db, record)) > 0


def test_the_site_s_own_minutes_count_once_the_server_told_them(
    site, live, browser, db
):
    settings = site.home / "wiremark.toml"
    told = settings.read_text(encoding="utf-8")
    settings.write_text(f"lock_after_idle_min = 2\n{told}", encoding="utf-8")
    live.stop()
    live.start()
    page = browser.opens(f"{live.url}/tablet/")
    enrols(page, live.url, db)
    lock.sets_passphrase(page, live.url)
    page.goto("about:blank")
    page = browser.context.new_page()
    page.clock.install()
    page.goto(f"{live.url}/tablet/")
    lock.is_open(page)
    page.clock.fast_forward("00:20")
    page.clock.run_for(6000)
    expect(page.locator("#start")).to_be_visible()
    page.clock.fast_forward("01:40")
    page.clock.run_for(6000)
    lock.is_locked(page)


def test_a_newer_worker_is_handed_key_and_pin(shell, site, browser, tmp_path):
    releases = shell.at_its_address(copied(site.home, tmp_path / "copy")).start()
    try:
        tablet = Bedside(browser, releases.url)
        page = tablet.page
        lock.sets_passphrase(page, releases.url)
        page.get_by_role("link", name="Go to the cases").click()
        lock.is_open(page)
        lock.locks(page)
        lock.unlocks(page, pin="4711")
        lock.is_open(page)
        wait_until(page, READY)
        before = page.evaluate(READINESS)["version"]
        publish(releases, "second")
        looks_for_update(page)
        with page.expect_navigation():
            page.get_by_role("button", name="Newer form").click()
        lock.is_open(page)
        assert page.evaluate(READINESS)["version"] != before
        lock.is_open(page)
        lock.locks(page)
        lock.unlocks_by_pin(page, "4711")
        lock.is_open(page)
    finally:
        releases.stop()
