"""Photos reach the server by themselves, after the entries, once, and stay until then."""

from __future__ import annotations

import base64
import shutil
import threading
from contextlib import suppress

import pytest

from tests.support.browser import wait_until
from tests.support.photographs import FIELD, png
from tests.support.syncing import NAME, BedsideTablet, entries
from webapp.record import photos

SENT = "(await store.status()).photosHere === 0"
# Each is taken as a field does it: the bytes first, then the entry that names them.
_TAKE = """async ([record, path, base64, caption, isNamed]) => {
  const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
  const blob = new Blob([bytes], { type: "image/png" });
  const value = await window.store.putPhoto(record, blob, caption);
  const author = { person: null, name: "Test-Mira FJORDHOLM", role: "assistant" };
  if (isNamed) await window.store.append(record, { path, value, author });
  return value;
}"""
_SPOIL = """async (sealed) => {
  const { openBase } = await import("/static/js/log/db.js");
  const { result } = await import("/static/js/log/transaction.js");
  const base = await openBase();
  await base.transact(["photos"], "readwrite", async (tx) => {
    const row = await result(tx.objectStore("photos").get(sealed));
    row.bytes[20] ^= 1;
    tx.objectStore("photos").put(row);
  });
  base.close();
}"""


class Camera(BedsideTablet):
    """A tablet that takes photos."""

    def takes(self, record, raw=b"", path=FIELD, caption="RV", is_named=True):
        """Take a photo; return what an entry says of it."""
        text = base64.b64encode(raw or png()).decode()
        told = [record, path, text, caption, is_named]
        return self.page.evaluate(_TAKE, told)

    def hears_of_photos(self, handler) -> None:
        """Stand between this tablet and the server's place for photos."""
        self.page.route("**/sync/photo", handler)

    def asked(self) -> list[str]:
        """Listen to what is asked of the server from now on, by path."""
        heard: list[str] = []
        self.page.on(
            "request",
            lambda one: (
                heard.append(one.url.partition("/sync")[2] or "/")
                if "/sync" in one.url
                else None
            ),
        )
        return heard

    def waits_until_photos_are_sent(self) -> None:
        """Wait until the server has every photo."""
        wait_until(self.page, SENT, 60)


@pytest.fixture
def tablet(browser, live, db) -> Camera:
    return Camera(browser, live, db)


def kept(db) -> list[str]:
    """The photos on the server, in their order."""
    rows = db.conn.execute("SELECT sealed_sha256 FROM photo ORDER BY rowid")
    return [row[0] for row in rows]


def test_a_photo_taken_without_a_server_arrives_after_its_entry(tablet, live, db):
    tablet.syncs_now()
    live.stop()
    record = tablet.new_record()
    value = tablet.takes(record)
    status = tablet.status()
    assert (status["photosHere"], status["unsent"]) == (1, 1)
    assert "strip.photos_here_one" in tablet.notes()
    asked = tablet.asked()
    live.start()
    tablet.waits_until_photos_are_sent()
    assert kept(db) == [value["sealed"]]
    sent = [path for path in asked if path in ("/", "/photo")]
    assert sent.count("/photo") == 1
    assert "/" in sent[: sent.index("/photo")]
    assert len(entries(db, record)) == 1
    view = photos.view(db, value["sealed"])
    assert (view.plain_sha256, view.because) == (value["sha256"], "")
    assert tablet.page.evaluate("(v) => store.photo(v).then((b) => b.size)", value)


def test_a_kill_while_a_photo_is_sent_loses_and_doubles_nothing(browser, live, db):
    tablet = Camera(browser, live, db, starts=False)
    tablet.hears_of_photos(lambda route: None)
    value = tablet.takes(tablet.new_record())
    with tablet.page.expect_request("**/sync/photo"):
        tablet.starts()
    browser.kill()
    again = Camera(browser, live)
    again.waits_until_photos_are_sent()
    assert kept(db) == [value["sealed"]]


def test_a_lost_answer_sends_no_photo_twice(browser, live, db):
    tablet = Camera(browser, live, db, starts=False)
    asked = tablet.asked()

    def lose(route):
        route.fetch()
        route.abort("connectionreset")

    tablet.hears_of_photos(lose)
    value = tablet.takes(tablet.new_record())
    tablet.starts()
    tablet.syncs_now()
    tablet.page.evaluate("sync.photos()")
    assert kept(db) == [value["sealed"]]
    assert tablet.status()["photosHere"] == 1
    tablet.page.close()
    again = Camera(browser, live, starts=False)
    asked = again.asked()
    again.starts()
    again.waits_until_photos_are_sent()
    assert "/photo" not in asked
    assert kept(db) == [value["sealed"]]


STAYS = {
    "portal": {"status": 200, "content_type": "text/html", "body": "<h1>Wi-Fi"},
    "redirect": {"status": 302, "headers": {"location": "/sign-in"}},
    "nothing": {"status": 200, "content_type": "application/json", "body": ""},
    "another shape": {"status": 200, "json": {"ok": True}},
    "another photo": {
        "status": 200,
        "json": {"ok": True, "sealed": "0" * 64, "answer": "kept"},
    },
    "another word": {"status": 200, "json": {"ok": True, "answer": "lost"}},
    "cut": {"status": 200, "content_type": "application/json", "body": '{"ok":tr'},
    "401": {"status": 401, "json": {"ok": False, "error": "who"}},
    "403 of a proxy": {"status": 403, "content_type": "text/html", "body": "no"},
    "404": {"status": 404, "json": {"ok": False, "error": "no such place"}},
    "429": {"status": 429, "headers": {"retry-after": "1"}, "body": "slow"},
    "500": {"status": 500, "content_type": "text/html", "body": "oops"},
    "502": {"status": 502, "content_type": "text/html", "body": "proxy"},
    "503": {"status": 503, "body": ""},
    "507": {"status": 507, "json": {"ok": False, "error": "the disk is full"}},
}


@pytest.mark.parametrize("answer", STAYS.values(), ids=STAYS)
def test_whatever_answers_instead_of_our_server_a_photo_stays(
    shared_browser, standing, standing_db, answer, request
):
    name = request.node.callspec.id
    tablet = Camera(shared_browser, standing, standing_db, False, name)
    tablet.hears_of_photos(lambda route: route.fulfill(**answer))
    record = tablet.new_record()
    value = tablet.takes(record)
    tablet.starts()
    with tablet.page.expect_request("**/sync/photo"):
        tablet.syncs_now()
    tablet.page.evaluate("sync.photos()")
    status = tablet.status()
    assert (status["photosHere"], status["photosRefused"]) == (1, [])
    assert (status["unsent"], status["reach"]) == (0, "yes")
    assert value["sealed"] not in kept(standing_db)
    tablet.page.close()
    again = Camera(shared_browser, standing, name=name)
    again.waits_until_photos_are_sent()
    assert value["sealed"] in kept(standing_db)
    again.page.close()


@pytest.mark.parametrize(
    ("answer", "because"),
    [
        ({"status": 400, "json": {"ok": False, "error": "Damaged."}}, "Damaged."),
        ({"status": 403, "json": {"ok": False, "error": "Not yours."}}, "Not yours."),
        ({"status": 409, "json": {"ok": False, "error": "Taken."}}, "Taken."),
        ({"status": 413, "json": {"ok": False, "error": "Over 12."}}, "Over 12."),
        (
            {"status": 413, "content_type": "text/html", "body": "<h1>large"},
            "storage.too_large_for_the_way",
        ),
    ],
    ids=["400", "403", "409", "413", "413 of a proxy"],
)
def test_a_photo_that_is_not_taken_is_named_kept_and_holds_up_no_other(
    browser, live, db, answer, because
):
    tablet = Camera(browser, live, db, starts=False)
    record = tablet.new_record()
    bad = tablet.takes(record, png(7, 7))["sealed"]
    good = [tablet.takes(record, png(7, n))["sealed"] for n in (8, 9)]

    def refuse(route):
        if bad.encode() in (route.request.post_data_buffer or b""):
            route.fulfill(**answer)
        else:
            route.continue_()

    tablet.hears_of_photos(refuse)
    tablet.starts()
    wait_until(tablet.page, "(await store.status()).photosHere === 1", 60)
    wait_until(tablet.page, "(await store.status()).photosRefused.length === 1")
    assert sorted(kept(db)) == sorted(good)
    [told] = tablet.status()["photosRefused"]
    assert told == {"sealed": bad, "record": record, "because": because}
    assert "strip.photos_refused" in tablet.notes()
    assert tablet.page.evaluate("(sealed) => store.photo({ sealed })", bad) is not None
    tablet.page.close()
    again = Camera(browser, live)
    again.waits_until_photos_are_sent()
    assert again.status()["photosRefused"] == []
    assert sorted(kept(db)) == sorted([bad, *good])


def test_a_photo_over_which_the_server_falls_holds_up_no_other(browser, live, db):
    tablet = Camera(browser, live, db, starts=False)
    record = tablet.new_record()
    poison = tablet.takes(record, png(7, 7))["sealed"]
    others = [tablet.takes(record, png(7, n))["sealed"] for n in (8, 9)]

    def fall(route):
        if poison.encode() in (route.request.post_data_buffer or b""):
            route.fulfill(status=500, content_type="text/html", body="oops")
        else:
            route.continue_()

    tablet.hears_of_photos(fall)
    tablet.starts()
    wait_until(tablet.page, "(await store.status()).photosRefused.length === 1", 60)
    assert sorted(kept(db)) == sorted(others)
    [told] = tablet.status()["photosRefused"]
    assert (told["sealed"], told["because"]) == (poison, "storage.server_falls")


def test_entries_do_not_wait_while_a_photo_is_on_its_way(browser, live, db):
    tablet = Camera(browser, live, db, starts=False)
    held = threading.Event()
    tablet.hears_of_photos(lambda route: held.set())
    record = tablet.new_record()
    tablet.takes(record)
    with tablet.page.expect_request("**/sync/photo"):
        tablet.starts()
    tablet.appends(record, NAME, "ALDERMERE")
    tablet.wait_until_sent()
    assert len(entries(db, record)) == 2
    assert tablet.status()["photosHere"] == 1


def test_a_photo_waits_until_the_entries_are_answered_for(browser, live, db):
    tablet = Camera(browser, live, db, starts=False)
    asked = tablet.asked()
    answer = {"status": 503, "body": ""}
    tablet.page.route("**/sync", lambda route: route.fulfill(**answer))
    tablet.takes(tablet.new_record())
    tablet.starts()
    wait_until(tablet.page, "(await store.status()).reach === 'fault'")
    tablet.page.evaluate("sync.photos()")
    assert "/photo" not in asked
    tablet.hears_the_server()
    tablet.waits_until_photos_are_sent()


def test_a_photo_that_no_entry_names_is_not_sent(tablet, db):
    record = tablet.new_record()
    loose = tablet.takes(record, png(3, 3), is_named=False)
    named = tablet.takes(record, png(4, 4))
    wait_until(tablet.page, "(await store.status()).photosHere === 1", 60)
    assert kept(db) == [named["sealed"]]
    tablet.appends(record, FIELD, loose)
    tablet.waits_until_photos_are_sent()
    assert set(kept(db)) == {named["sealed"], loose["sealed"]}


def test_a_photo_that_was_given_up_is_let_go_and_a_named_one_is_not(tablet):
    record = tablet.new_record()
    loose = tablet.takes(record, png(3, 3), is_named=False)
    named = tablet.takes(record, png(4, 4))
    for value in (loose, named):
        tablet.page.evaluate("(value) => store.forgetPhoto(value)", value)
    held = [row["sealed"] for row in tablet.rows("photos")]
    assert held == [named["sealed"]]


# The keys of one record as they were before a server was known.
UNWRAP = """async (record) => {
  const { openBase } = await import("/static/js/log/db.js");
  const { result } = await import("/static/js/log/transaction.js");
  const base = await openBase();
  await base.transact(["keys"], "readwrite", async (tx) => {
    for (const row of await result(tx.objectStore("keys").getAll()))
      if (row.record === record) tx.objectStore("keys").put({ ...row, wrap_server: null });
  });
  base.close();
}"""
NEXT_OF_LOCKED = """async () => {
  const { openBase } = await import("/static/js/log/db.js");
  const { lockedKeys } = await import("/static/js/log/locked-keys.js");
  const { openPhotoQueue } = await import("/static/js/log/photo-queue.js");
  const base = await openBase();
  const shelf = { base, keys: lockedKeys(base), channel: { tell: () => {} } };
  const next = await openPhotoQueue(shelf).next(new Set());
  base.close();
  return next && { sealed: next.row.sealed, problem: next.problem };
}"""


def test_of_a_locked_tablet_a_photo_without_a_wrap_holds_up_no_other(browser, live, db):
    tablet = Camera(browser, live, db, starts=False)
    tablet.hears_of_photos(lambda route: route.abort())
    taken = {}
    for n in (5, 6):
        record = tablet.new_record()
        taken[tablet.takes(record, png(n, n))["sealed"]] = record
    tablet.starts()
    tablet.wait_until_sent()
    tablet.page.close()
    again = Camera(browser, live, starts=False)
    # They go by their names.
    first, second = sorted(taken)
    again.page.evaluate(UNWRAP, taken[first])
    again.appends(taken[first], NAME, "ALDERMERE")
    told = again.page.evaluate(NEXT_OF_LOCKED)
    assert told == {"sealed": second, "problem": None}
    # An entry that can be sent goes first.
    again.appends(taken[second], NAME, "ALDERMERE")
    assert again.page.evaluate(NEXT_OF_LOCKED) is None


def test_a_photo_in_a_row_is_sent(tablet, db):
    value = tablet.takes(tablet.new_record(), is_named=False)
    record = tablet.new_record()
    row = {"tip": "RV apex", "photo": value}
    tablet.appends(record, "finish.imaging", row, op="add")
    tablet.waits_until_photos_are_sent()
    assert kept(db) == [value["sealed"]]


def test_a_photo_damaged_on_the_tablet_is_named_and_not_sent(browser, live, db):
    tablet = Camera(browser, live, db, starts=False)
    record = tablet.new_record()
    spoilt, whole = (tablet.takes(record, png(5, n))["sealed"] for n in (5, 6))
    tablet.page.evaluate(_SPOIL, spoilt)
    tablet.starts()
    wait_until(tablet.page, "(await store.status()).photosRefused.length === 1", 60)
    wait_until(tablet.page, "(await store.status()).photosHere === 1", 60)
    assert tablet.status()["photosRefused"][0]["because"] == "storage.photo_damaged"
    assert kept(db) == [whole]


def test_a_photo_larger_than_the_hospital_takes_is_measured_first(
    site, browser, live, db
):
    live.stop()
    settings = site.home / "wiremark.toml"
    settings.write_text(settings.read_text("utf-8") + "photo_max_mib = 1\n", "utf-8")
    live.start()
    tablet = Camera(browser, live, db, starts=False)
    asked = tablet.asked()
    record = tablet.new_record()
    large = tablet.takes(record, png() + bytes(1024 * 1024))["sealed"]
    small = tablet.takes(record)["sealed"]
    tablet.starts()
    wait_until(tablet.page, "(await store.status()).photosRefused.length === 1", 60)
    wait_until(tablet.page, "(await store.status()).photosHere === 1", 60)
    [told] = tablet.status()["photosRefused"]
    assert told["sealed"] == large
    assert "1 MiB" in told["because"]
    assert kept(db) == [small]
    assert asked.count("/photo") == 1


def test_two_tablets_send_their_own_photos_of_one_record(
    browser, second_browser, live, db
):
    tablet = Camera(browser, live, db)
    record = tablet.new_record()
    first = tablet.takes(record, png(5, 5))["sealed"]
    tablet.waits_until_photos_are_sent()
    other = Camera(second_browser, live, db, name="second")
    second = other.takes(record, png(6, 6), path="finish.imaging", is_named=False)
    other.appends(record, "finish.imaging", {"photo": second}, op="add")
    other.waits_until_photos_are_sent()
    rows = db.conn.execute("SELECT sealed_sha256, record, tablet FROM photo").fetchall()
    assert {row[0] for row in rows} == {first, second["sealed"]}
    assert {row[1] for row in rows} == {record}
    assert len({row[2] for row in rows}) == 2


def test_a_server_that_went_back_is_given_its_photos_again(tablet, live, site, db):
    record = tablet.new_record()
    first = tablet.takes(record, png(5, 5))["sealed"]
    tablet.waits_until_photos_are_sent()
    live.stop()
    db.conn.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    copy = site.home / "older.db"
    shutil.copy(site.database, copy)
    live.start()
    second = tablet.takes(record, png(6, 6))["sealed"]
    tablet.waits_until_photos_are_sent()
    live.stop()
    db.conn.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    db.conn.close()
    for end in ("-wal", "-shm"):
        with suppress(FileNotFoundError):
            site.database.with_name(site.database.name + end).unlink()
    shutil.copy(copy, site.database)
    live.start()
    asked = tablet.asked()
    wait_until(tablet.page, "(await store.status()).wentBack", 60)
    from webapp.db import connect

    again = connect(site.database)
    wait_until(tablet.page, f"!(await store.status()).wentBack && {SENT}", 60)
    tablet.syncs_now()
    tablet.page.evaluate("sync.photos()")
    assert kept(again) == [first, second]
    assert asked.count("/photo") == 1
    again.conn.close()
