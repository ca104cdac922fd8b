"""A server or a tablet that was put back to an older state loses and hides nothing."""

from __future__ import annotations

import shutil

import pytest

from tests.support.browser import wait_until
from tests.support.syncing import (
    ENROL,
    EVENT,
    FORGET_HELD,
    LOSE_LAST,
    NAME,
    WEIGHT,
    BedsideTablet,
    entries,
    ruling_of,
)
from webapp.db import connect
from webapp.people import tablets


def test_a_server_put_back_to_an_older_state_gets_again_what_it_lost(
    browser, live, db, site, tmp_path
):
    tablet = BedsideTablet(browser, live, db)
    record = tablet.new_record()
    tablet.appends(record, NAME, "before")
    tablet.wait_until_sent()
    live.stop()
    db.conn.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    shutil.copy(site.database, tmp_path / "backup.db")
    live.start()
    for n in range(3):
        tablet.appends(record, NAME, f"after {n}")
    wait_until(tablet.page, "(await store.status()).onServer === 4", 60)
    live.stop()
    db.conn.close()
    for left in site.home.glob("wiremark.db*"):
        left.unlink()
    shutil.copy(tmp_path / "backup.db", site.database)
    live.start()
    tablet.syncs_now()
    tablet.wait_until_sent()
    tablet.syncs_now()
    restored = connect(site.database)
    assert [row["seq"] for row in entries(restored)] == [1, 2, 3, 4]
    restored.conn.close()
    assert tablet.shows(record, NAME) == ["after 2"]
    assert tablet.status()["onServer"] == 4


def test_a_tablet_put_back_to_an_older_state_starts_a_log_of_its_own(browser, live, db):
    tablet = BedsideTablet(browser, live, db)
    record = tablet.new_record()
    for n in range(3):
        tablet.appends(record, NAME, f"{n}")
    tablet.wait_until_sent()
    tablet.page.evaluate(LOSE_LAST, 2)
    # Its round would be the one that runs, and this page's would not begin.
    tablet.page.close()
    again = BedsideTablet(browser, live)
    again.syncs_now()
    kept = again.appends(record, WEIGHT, {"as": "70", "n": "70", "unit": "kg"})
    assert kept["seq"] == 1
    again.wait_until_sent()
    assert len({row["log"] for row in entries(db)}) == 2
    assert len(entries(db)) == 4
    assert again.shows(record, NAME) == ["2"]


# Nothing after the answer is kept gets done, as when the browser is killed there.
DIE_AT_REFILE = """() => {
  const begin = IDBDatabase.prototype.transaction;
  IDBDatabase.prototype.transaction = function (...asked) {
    if (new Error().stack.includes("refile.js")) throw new DOMException("", "AbortError");
    return begin.apply(this, asked);
  };
}"""

# The strip asks for its count after each move, as it does at every change.
COUNT_AT_EACH_MOVE = """() => {
  const remove = IDBObjectStore.prototype.delete;
  window.asked = [];
  IDBObjectStore.prototype.delete = function (...given) {
    if (this.name === "entries")
      this.transaction.addEventListener("complete", () => asked.push(store.status()));
    return remove.apply(this, given);
  };
}"""


@pytest.mark.parametrize("way", ["in one go", "killed", "enrolled anew"])
def test_entries_written_in_places_that_are_taken_get_places_of_their_own(
    browser, live, db, way
):
    tablet = BedsideTablet(browser, live, db)
    record = tablet.new_record()
    for n in range(3):
        tablet.appends(record, EVENT, {"what": f"before {n}"}, op="add")
    tablet.wait_until_sent()
    tablet.page.evaluate(FORGET_HELD)
    tablet.page.evaluate(LOSE_LAST, 2)
    tablet.page.close()
    again = BedsideTablet(browser, live, starts=False)
    ids = [
        again.appends(record, EVENT, {"what": f"after {n}"}, op="add")["id"]
        for n in range(4)
    ]
    if way != "in one go":
        again.page.evaluate(DIE_AT_REFILE)
        again.starts()
        wait_until(again.page, "(await store.status()).conflicts.length > 0")
        again.page.close()
        again = BedsideTablet(browser, live, starts=False)
    if way == "enrolled anew":
        here = again.page.evaluate("store.enrolment()")["tablet"]["id"]
        assert again.page.evaluate(ENROL, tablets.renew(db, here)) is None
    again.page.evaluate(COUNT_AT_EACH_MOVE)
    again.starts()
    again.wait_until_sent()
    again.syncs_now()
    rows = again.fold(record)["rows"][EVENT]
    assert {row["value"]["what"] for row in rows} == {
        *(f"before {n}" for n in range(3)),
        *(f"after {n}" for n in range(4)),
    }
    assert {row["id"] for row in entries(db)} >= set(ids)
    assert len(entries(db)) == 7
    assert {ruling_of(db, entry) for entry in ids} == {"counted"}
    status = again.status()
    assert (status["refused"], status["setAside"], status["unsent"]) == ([], [], 0)
    assert again.page.evaluate("Promise.all(asked).then((all) => all.length)") > 1
    assert status["total"] == len(again.rows("entries"))
