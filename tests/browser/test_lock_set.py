"""Setting and changing passphrases: whatever happens between, one always opens the tablet."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.support import lock
from tests.support.bedside import Bedside
from tests.support.browser import wait_until
from tests.support.store_page import StorePage

FAMILY = "Zzyxander"
SECOND = "Test-Olav BERGSTRAND"
WRAPS = """async () => {
  const { openBase } = await import("/static/js/log/db.js");
  const { result } = await import("/static/js/log/transaction.js");
  const base = await openBase();
  const rows = await base.transact(["wraps"], "readonly", (tx) =>
    result(tx.objectStore("wraps").getAll()));
  base.close();
  return rows.map(({ who, how }) => `${who}: ${how}`);
}"""
# Which of these open the tablet, by what lies in its database.
OPENING = """async (words) => {
  const { openBase } = await import("/static/js/log/db.js");
  const { openDataKey, readClosed } = await import("/static/js/log/data-key.js");
  const { fits, openWrap } = await import("/static/js/log/wraps.js");
  const base = await openBase();
  const { isClosed } = await openDataKey(base, async () => null);
  const closed = await readClosed(base);
  base.close();
  if (!isClosed) return ["without"];
  const opens = async (one) => {
    const keys = await Promise.all(closed.people.map((row) =>
      openWrap(row, one).catch(() => null)));
    const right = keys.filter((key) => key);
    return (await Promise.all(right.map((key) => fits(key, closed.tablet)))).includes(true);
  };
  const found = await Promise.all(words.map(opens));
  return words.filter((_, n) => found[n]);
}"""
# Opens the first wrap, then changes it again and again, until the browser is killed.
CHANGE_FOR_EVER = """async ([one, other, person]) => {
  const { openBase } = await import("/static/js/log/db.js");
  const { setAnother } = await import("/static/js/log/rewrap.js");
  const base = await openBase();
  window.changes = 0;
  void (async () => {
    for (let from = one, to = other; ; [from, to] = [to, from]) {
      await setAnother(base, person, from, person, to);
      window.changes += 1;
    }
  })();
}"""
# As a page of before the lock opened the row, and what it did where there was none.
OLD_PAGE = """async () => {
  const { openBase } = await import("/static/js/log/db.js");
  const { result } = await import("/static/js/log/transaction.js");
  const { passphraseKey, unwrapForTablet } = await import("/static/js/log/seal.js");
  const base = await openBase();
  const row = await base.transact(["wraps"], "readonly", (tx) =>
    result(tx.objectStore("wraps").get("tablet")));
  base.close();
  if (!row) return "makes a row of its own";
  const under = await passphraseKey("", row.salt, row.rounds);
  return unwrapForTablet(under, row.who, row).then(() => "opens it", () => "cannot open it");
}"""


@pytest.fixture
def tablet(standing, browser):
    """A tablet with one case, and no passphrase yet."""
    made = Bedside(browser, standing.url)
    made.starts_now()
    made.types("Family name", FAMILY)
    made.keeps("patient.family_name", FAMILY)
    return made


def opening(page, *words: str) -> list[str]:
    return list(page.evaluate(OPENING, list(words)))


def test_a_tablet_without_a_passphrase_says_what_that_means_and_never_locks(tablet):
    expect(tablet.page.locator("[data-act=lock]")).to_have_count(0)
    tablet.goes_home()
    offer = tablet.page.get_by_role("link", name="Set a passphrase")
    expect(offer).to_contain_text("whoever holds this tablet can read what is on it")
    expect(tablet.page.locator("[data-act=lock]")).to_have_count(0)


def test_the_first_passphrase_leaves_what_was_entered_and_no_empty_one(
    tablet, browser, standing
):
    address, page = tablet.page.url, tablet.page
    assert page.evaluate(WRAPS) == ["tablet: none"]
    assert page.evaluate(OLD_PAGE) == "opens it"
    lock.sets_passphrase(page, standing.url)
    assert page.evaluate(WRAPS) == [f"name {lock.NAME}: passphrase", "tablet: closed"]
    assert page.evaluate(OLD_PAGE) == "cannot open it"
    page.goto(address)
    tablet.is_open()
    expect(page.locator("#case-strip")).to_contain_text(FAMILY)
    browser.close()
    page = browser.opens(f"{standing.url}/tablet/")
    lock.is_locked(page)
    assert FAMILY not in page.content()
    lock.unlocks(page)
    lock.is_open(page)
    expect(page.locator("#cases")).to_contain_text(FAMILY)


def test_it_is_not_set_while_another_window_stands(tablet, browser, standing):
    page = tablet.page
    other = browser.opens(f"{standing.url}/tablet/")
    page.goto(f"{standing.url}/tablet/passphrase")
    page.get_by_label("Name").fill(lock.NAME)
    page.get_by_label("Passphrase", exact=True).fill(lock.WORDS)
    page.get_by_label("Once more").fill(lock.WORDS)
    page.get_by_role("button", name="Set the passphrase").click()
    expect(page.locator("#problem")).to_contain_text("Close the other windows")
    assert page.evaluate(WRAPS) == ["tablet: none"]
    other.close()
    page.get_by_role("button", name="Set the passphrase").click()
    expect(page.locator("#state")).to_contain_text("Who can unlock it")


@pytest.mark.parametrize(
    ("name", "first", "again", "told"),
    [
        ("", lock.WORDS, lock.WORDS, "Say whose passphrase it is."),
        (lock.NAME, "short", "short", "At least 12"),
        (lock.NAME, lock.WORDS, lock.OTHER_WORDS, "The two are not the same"),
    ],
)
def test_what_does_not_do_is_said_and_nothing_is_set(
    page, standing, name, first, again, told
):
    page.goto(f"{standing.url}/tablet/passphrase")
    expect(page.locator("#setting")).to_be_visible()
    page.get_by_label("Name").fill(name)
    page.get_by_label("Passphrase", exact=True).fill(first)
    page.get_by_label("Once more").fill(again)
    page.get_by_role("button", name="Set the passphrase").click()
    expect(page.locator("#problem")).to_contain_text(told)
    expect(page.locator("#state")).to_contain_text("has no passphrase")


def test_a_changed_passphrase_and_one_more_person_open_it(tablet, browser, standing):
    page = tablet.page
    lock.sets_passphrase(page, standing.url)
    page.get_by_label("Your passphrase now").fill(lock.OTHER_WORDS)
    lock.types_new(page, lock.OTHER_WORDS)
    expect(page.locator("#problem")).to_contain_text("does not open the tablet")
    assert opening(page, lock.WORDS, lock.OTHER_WORDS) == [lock.WORDS]
    page.get_by_label("Your passphrase now").fill(lock.WORDS)
    lock.types_new(page, lock.OTHER_WORDS)
    expect(page.locator("#state")).to_contain_text("Your passphrase is changed.")
    assert opening(page, lock.WORDS, lock.OTHER_WORDS) == [lock.OTHER_WORDS]
    page.get_by_role("button", name="Add one more person").click()
    page.get_by_label("Name").fill(SECOND)
    page.get_by_label("Your passphrase now").fill(lock.OTHER_WORDS)
    lock.types_new(page, lock.WORDS)
    expect(page.locator("#state")).to_contain_text(f"{SECOND} can unlock this tablet")
    browser.close()
    page = browser.opens(f"{standing.url}/tablet/")
    lock.is_locked(page)
    page.get_by_label("Who").select_option(label=SECOND)
    lock.unlocks(page)
    lock.is_open(page)
    expect(page.locator("#cases")).to_contain_text(FAMILY)
    expect(page.locator("#start-strip .who-name")).to_have_text(SECOND)


def test_a_kill_in_the_middle_of_a_change_leaves_one_that_opens_it(
    tablet, browser, standing
):
    page = tablet.page
    lock.sets_passphrase(page, standing.url)
    person = {"person": None, "name": lock.NAME, "role": ""}
    now = lock.WORDS
    for _ in range(20):
        other = lock.OTHER_WORDS if now == lock.WORDS else lock.WORDS
        page.evaluate(CHANGE_FOR_EVER, [now, other, person])
        wait_until(page, "window.changes >= 1")
        browser.kill()
        page = browser.opens(f"{standing.url}/tablet/")
        lock.is_locked(page)
        found = opening(page, lock.WORDS, lock.OTHER_WORDS)
        assert len(found) == 1
        now = found[0]
    lock.unlocks(page, now)
    lock.is_open(page)
    expect(page.locator("#cases")).to_contain_text(FAMILY)


def test_a_kill_while_the_first_is_set_leaves_all_of_it_readable(browser, standing):
    page = browser.opens(f"{standing.url}/static/js/types.js")
    tablet = StorePage(page)
    record = tablet.new_record()
    tablet.appends(record, "patient.family_name", FAMILY)
    person = {"person": None, "name": lock.NAME, "role": ""}
    begin = """async ([person, words]) => {
      const { openBase } = await import("/static/js/log/db.js");
      const { setFirst } = await import("/static/js/log/rewrap.js");
      const base = await openBase();
      const put = IDBObjectStore.prototype.put;
      window.isWriting = false;
      IDBObjectStore.prototype.put = function (row) {
        window.isWriting = true;
        return put.call(this, row);
      };
      void setFirst(base, person, words);
    }"""
    page.evaluate(begin, [person, lock.WORDS])
    wait_until(page, "window.isWriting")
    browser.kill()
    page = browser.opens(f"{standing.url}/tablet/")
    # All of it or nothing: locked by the new one, or open as before.
    locked = page.locator("#by-passphrase:not([hidden])")
    expect(locked.or_(page.locator("#start:not([hidden])"))).to_have_count(1)
    if locked.count():
        lock.unlocks(page)
    lock.is_open(page)
    expect(page.locator("#cases")).to_contain_text(FAMILY)


def test_no_first_passphrase_while_another_page_uses_the_data_key(browser, standing):
    """What that page seals under the old key could be read by nobody afterwards."""
    other = browser.opens(f"{standing.url}/static/js/types.js")
    other.evaluate(
        """async () => {
          const { openStore } = await import("/static/js/log/store.js");
          window.store = await openStore();
        }"""
    )
    page = browser.opens(f"{standing.url}/tablet/passphrase")
    expect(page.locator("#setting")).to_be_visible()
    page.get_by_label("Name").fill(lock.NAME)
    lock.types_new(page, lock.WORDS)
    expect(page.locator("#problem")).to_contain_text("Close the other windows")
    assert page.evaluate(WRAPS) == ["tablet: none"]
    other.evaluate("() => window.store.close()")
    page.get_by_role("button", name="Set the passphrase").click()
    expect(page.locator("#state")).to_contain_text(f"Who can unlock it: {lock.NAME}")
