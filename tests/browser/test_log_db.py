"""The tablet's database: opened, upgraded, blocked, lost, full, missing."""

from __future__ import annotations

import pytest

from tests.support.browser import wait_until
from tests.support.store_page import StorePage

PATH = "patient.family_name"

# Makes the nth transaction from now on abort as a full disk does, and no other.
FILL_UP = """(nth) => {
  const begin = IDBDatabase.prototype.transaction;
  let count = 0;
  IDBDatabase.prototype.transaction = function (stores, mode, options) {
    const tx = begin.call(this, stores, mode, options);
    if (mode === "readwrite" && ++count === nth) {
      const full = new DOMException("no room", "QuotaExceededError");
      Object.defineProperty(tx, "error", { get: () => full });
      tx.abort();
      IDBDatabase.prototype.transaction = begin;
    }
    return tx;
  };
}"""
CLOSE_UNDER_IT = """() => {
  const begin = IDBDatabase.prototype.transaction;
  IDBDatabase.prototype.transaction = function (...given) {
    IDBDatabase.prototype.transaction = begin;
    this.close();
    return begin.apply(this, given);
  };
}"""
SPY = """() => {
  window.begun = [];
  const begin = IDBDatabase.prototype.transaction;
  IDBDatabase.prototype.transaction = function (stores, mode, options) {
    window.begun.push([[].concat(stores).sort().join(), mode, options?.durability]);
    return begin.call(this, stores, mode, options);
  };
}"""
# A window of another build: opens without listening for newer versions.
DEAF_WINDOW = """(name) => new Promise((resolve) => {
  const request = indexedDB.open(name);
  request.onsuccess = () => { window.deaf = request.result; resolve(); };
})"""
OPEN_AT_2 = """async (name) => {
  const { openBase } = await import("/static/js/log/db.js");
  window.blocked = 0;
  window.opening = openBase({ name, version: 2, onBlocked: () => window.blocked++ });
  window.opening.then((base) => { window.base = base; });
}"""


def test_an_entry_and_the_tip_are_kept_in_one_strict_transaction(page):
    tablet = StorePage(page, "strict")
    page.evaluate(SPY)
    assert tablet.appends(tablet.new_record(), PATH, "ALDERMERE")["seq"] == 1
    writes = [begun for begun in page.evaluate("begun") if begun[1] == "readwrite"]
    assert writes == [["drafts,entries,keys,meta", "readwrite", "strict"]]


def test_an_entry_that_found_no_room_is_told_as_not_kept_and_takes_no_place(page):
    tablet = StorePage(page, "full")
    record = tablet.new_record()
    tablet.appends(record, PATH, "first")
    page.evaluate(FILL_UP, 1)
    assert tablet.appends(record, PATH, "second") == {"refused": "full"}
    assert tablet.shows(record, PATH) == ["first"]
    assert tablet.appends(record, PATH, "third")["seq"] == 2
    assert tablet.shows(record, PATH) == ["third"]
    assert [row["seq"] for row in tablet.rows("entries")] == [1, 2]


def test_a_record_key_that_found_no_room_is_made_again(page):
    tablet = StorePage(page, "full-key")
    record = tablet.new_record()
    page.evaluate(FILL_UP, 1)
    assert tablet.appends(record, PATH, "lost") == {"refused": "full"}
    assert tablet.appends(record, PATH, "kept")["seq"] == 1
    again = StorePage(page, "full-key")
    assert again.shows(record, PATH) == ["kept"]


def test_an_entry_larger_than_the_server_takes_is_refused_before_it_is_kept(page):
    tablet = StorePage(page, "large")
    record = tablet.new_record()
    assert tablet.appends(record, PATH, "x" * 70_000) == {"refused": "too_large"}
    assert tablet.appends(record, PATH, "x" * 60_000)["seq"] == 1


def test_a_handle_that_the_browser_closed_is_opened_again(page):
    tablet = StorePage(page, "asleep")
    record = tablet.new_record()
    page.evaluate(CLOSE_UNDER_IT)
    assert tablet.appends(record, PATH, "after sleep")["seq"] == 1
    assert tablet.shows(record, PATH) == ["after sleep"]


def test_a_handle_that_stays_closed_is_told_as_not_kept(page):
    tablet = StorePage(page, "dead")
    record = tablet.new_record()
    tablet.appends(record, PATH, "before")
    page.evaluate("""() => {
      window.whole = IDBDatabase.prototype.transaction;
      IDBDatabase.prototype.transaction = function () {
        throw new DOMException("closing", "InvalidStateError");
      };
    }""")
    assert tablet.appends(record, PATH, "asleep") == {"refused": "failed"}
    page.evaluate("() => { IDBDatabase.prototype.transaction = window.whole; }")
    assert tablet.appends(record, PATH, "awake")["seq"] == 2
    assert tablet.shows(record, PATH) == ["awake"]


def test_the_room_that_is_left_is_watched_while_the_page_stays_open(page):
    notes = page.evaluate("""async () => {
      const { openStore } = await import("/static/js/log/store.js");
      let [now, free] = [1e12, 900e6];
      const estimate = async () => ({ usage: 0, quota: free });
      Object.defineProperty(navigator.storage, "estimate", { value: estimate });
      const store = await openStore({ name: "room", now: () => now });
      const low = async () =>
        (await store.status()).notes.some(({ key }) => key === "strip.storage_low");
      const told = [await low()];
      free = 100e6;
      told.push(await low());
      now += 61000;
      told.push(await low());
      store.close();
      return told;
    }""")
    assert notes == [False, False, True]


def test_without_a_database_the_store_says_that_nothing_can_be_kept(page):
    said = page.evaluate("""async () => {
      Object.defineProperty(globalThis, "indexedDB", { value: undefined });
      const { openStore } = await import("/static/js/log/store.js");
      return openStore({ name: "none" }).then(() => "opened", (problem) => problem.say);
    }""")
    assert said == "store.absent"


def test_a_database_that_refuses_to_open_is_told_like_none(page):
    said = page.evaluate("""async () => {
      const refused = new DOMException("", "SecurityError");
      IDBFactory.prototype.open = () => { throw refused; };
      const { openStore } = await import("/static/js/log/store.js");
      return openStore({ name: "none" }).then(() => "opened", (problem) => problem.say);
    }""")
    assert said == "store.absent"


def test_a_newer_version_is_not_held_up_by_a_page_of_ours(page, shared_browser):
    name = "gives-way"
    tablet = StorePage(page, name)
    record = tablet.new_record()
    tablet.appends(record, PATH, "before")
    newer = shared_browser.opens(page.url)
    newer.evaluate(OPEN_AT_2, name)
    wait_until(newer, "window.base !== undefined")
    assert newer.evaluate("window.blocked") == 0
    newer.close()


def test_an_older_window_in_the_way_is_told_and_then_waited_for(page, shared_browser):
    name = "in-the-way"
    StorePage(page, name)
    old = shared_browser.opens(page.url)
    old.evaluate(DEAF_WINDOW, name)
    newer = shared_browser.opens(page.url)
    newer.evaluate(OPEN_AT_2, name)
    wait_until(newer, "window.blocked === 1")
    assert newer.evaluate("window.base === undefined")
    old.close()
    wait_until(newer, "window.base !== undefined")
    newer.close()


def test_a_page_older_than_the_database_still_keeps_and_shows_entries(page):
    name = "older"
    first = StorePage(page, name)
    record = first.new_record()
    first.appends(record, PATH, "before")
    page.evaluate(OPEN_AT_2, name)
    wait_until(page, "window.base !== undefined")
    page.evaluate("window.base.close()")
    older = StorePage(page, name)
    assert older.appends(record, PATH, "during")["seq"] == 1
    assert older.shows(record, PATH) == ["during"]
    assert older.status()["older"] is True
    assert older.notes()[0] == "strip.older_form"
    assert (older.status()["total"], older.status()["unsent"]) == (2, 2)
    again = StorePage(page, name)
    assert again.shows(record, PATH) == ["during"]
    assert [set(row) for row in again.rows("outbox")] == [
        {"header", "sealed", "wrap_server", "wrap_tablet"}
    ]


def test_a_page_that_grew_old_between_two_taps_keeps_the_next_outside_the_log(page):
    name = "grew-old"
    tablet = StorePage(page, name)
    record = tablet.new_record()
    # By the third tap the place and the key are known before it.
    for text in ("one", "two", "three"):
        tablet.appends(record, PATH, text)
    page.evaluate(OPEN_AT_2, name)
    wait_until(page, "window.base !== undefined")
    page.evaluate("window.base.close()")
    tablet.appends(record, "patient.given_name", "Test", op="set")
    row = tablet.appends(record, "moments", {"what": "call"}, op="add")
    assert row["seq"] == 2
    assert len(tablet.rows("outbox")) == 2
    assert len(tablet.rows("entries")) == 3


def test_a_newer_page_takes_the_outbox_into_the_log(page):
    name = "outbox"
    first = StorePage(page, name)
    record = first.new_record()
    first.appends(record, PATH, "before")
    page.evaluate(OPEN_AT_2, name)
    wait_until(page, "window.base !== undefined")
    page.evaluate("window.base.close()")
    StorePage(page, name).appends(record, PATH, "during")
    taken = page.evaluate(
        """async (name) => {
          const { openBase } = await import("/static/js/log/db.js");
  const { result } = await import("/static/js/log/transaction.js");
          const { readyLog } = await import("/static/js/log/outbox.js");
          const { openDataKey } = await import("/static/js/log/data-key.js");
          const { openKeys } = await import("/static/js/log/keys.js");
          const { openReader } = await import("/static/js/log/reader.js");
          const base = await openBase({ name, version: 2 });
          await readyLog(base);
          const { key } = await openDataKey(base, async () => null);
          const reader = openReader(base, openKeys(base, key));
          const [record] = await base.transact(["entries"], "readonly", async (tx) =>
            (await result(tx.objectStore("entries").getAll())).map((r) => r.record));
          const left = await base.transact(["outbox"], "readonly", (tx) =>
            result(tx.objectStore("outbox").count()));
          const { values } = await reader.fold(record);
          base.close();
          return { left, values };
        }""",
        name,
    )
    assert taken["left"] == 0
    assert [head["value"] for head in taken["values"][PATH]] == ["during"]


@pytest.mark.parametrize("how", ["close", "kill"])
def test_what_was_kept_is_there_after_the_browser_ended(live, browser, how):
    tablet = StorePage(browser.opens(f"{live.url}/static/js/types.js"))
    record = tablet.new_record()
    for n in range(20):
        tablet.appends(record, "advance.depth_readings", {"n": str(n)}, op="add")
    tablet.page.evaluate("([r, p]) => store.draft(r, p, 'half a wor')", [record, PATH])
    getattr(browser, how)()
    again = StorePage(browser.opens(f"{live.url}/static/js/types.js"))
    rows = again.fold(record)["rows"]["advance.depth_readings"]
    assert [row["value"]["n"] for row in rows] == [str(n) for n in range(20)]
    drafts = again.page.evaluate("(record) => store.drafts(record)", record)
    assert drafts == {PATH: "half a wor"}


def test_reloading_at_the_moment_it_is_called_kept_loses_nothing(live, browser):
    page = browser.opens(f"{live.url}/static/js/types.js")
    record = StorePage(page).new_record()
    for n in range(30):
        tablet = StorePage(page)
        assert tablet.appends(record, "moments", {"name": str(n)}, op="add")["seq"]
        page.reload()
    assert len(StorePage(page).fold(record)["rows"]["moments"]) == 30
