"""Many writers at once: each waits its turn, and who waits too long is told so."""

from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager

import pytest

from tests.support.cast import PASSWORD, Cast
from tests.support.replies import NAME, everything
from tests.support.server import LiveServer
from tests.support.transport import OverHttp
from webapp import db as databases
from webapp.app_db import close_held
from webapp.db import connect, writing
from webapp.record import log

WRITERS, BATCHES, A_BATCH = 20, 5, 4


@pytest.fixture
def second(site, live):
    """Another process that serves the same database."""
    server = LiveServer(site.home)
    server.start()
    yield server
    server.stop()


@pytest.fixture
def impatient(monkeypatch):
    """New connections wait for the lock no longer than this."""
    close_held()
    monkeypatch.setattr(databases, "BUSY_TIMEOUT_S", 0.05)
    yield
    close_held()


@contextmanager
def somebody_writes(site):
    other = connect(site.database)
    other.conn.execute("BEGIN IMMEDIATE")
    yield
    other.conn.execute("ROLLBACK")
    other.conn.close()


def test_twenty_writers_over_two_processes_all_get_through_once(app, db, live, second):
    wards = [Cast(app, db, OverHttp(server.url)) for server in (live, second)]
    tablets = [wards[n % 2].tablet(f"tablet {n}") for n in range(WRITERS)]
    shared = tablets[0].opens()

    def works(tablet):
        own = tablet.opens()
        for _ in range(BATCHES):
            for number in range(A_BATCH):
                record = shared if number % 2 else own
                tablet.sets(record, NAME, f"{tablet.name} {number}", seen=[])
            tablet.exchanges()
        return {entry.header.id for entry in tablet.own}

    with ThreadPoolExecutor(WRITERS) as many:
        sent = set().union(*many.map(works, tablets))
    kept = [row[0] for row in db.conn.execute("SELECT id FROM entry")]
    assert len(kept) == len(set(kept)) == WRITERS * BATCHES * A_BATCH
    assert set(kept) == sent
    told = live.log() + second.log()
    assert "Traceback" not in told
    assert "database is locked" not in told


def test_a_tablet_that_waited_too_long_is_told_to_come_again(
    impatient, site, tablet, db
):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    before = everything(db)
    with somebody_writes(site):
        reply = tablet.posts(tablet.request())
        assert reply.status == 503
        assert reply.json["ok"] is False
        assert "busy" in reply.json["error"]
    assert everything(db) == before
    tablet.syncs()
    assert len(log.entries_of(db, record)) == 1


def test_the_word_comes_with_the_time_to_wait(impatient, site, tablet, app):
    tablet.sets(tablet.opens(), NAME, "ALDERMERE")
    with somebody_writes(site):
        answer = app.test_client().post(
            "/sync",
            data=tablet.request(),
            headers={"Authorization": f"Bearer {tablet.token}"},
            content_type="application/wiremark-sync",
        )
    assert answer.status_code == 503
    assert int(answer.headers["Retry-After"]) > 0


def test_the_desk_is_told_in_words_and_keeps_nothing_half(impatient, site, cast, db):
    cast.signer.signs_in()
    before = everything(db)
    with somebody_writes(site):
        page = cast.signer.posts(
            "/sign-in", login=cast.signer.person.login, password=PASSWORD
        )
        assert page.status_code == 503
        assert "The server is busy with others." in page.text
        assert int(page.headers["Retry-After"]) > 0
    assert everything(db) == before
    assert cast.signer.signs_in().status_code == 302


def test_reading_does_not_wait_for_a_writer(impatient, site, cast):
    cast.signer.signs_in()
    with somebody_writes(site):
        assert cast.signer.opens("/records").status_code == 200


def test_a_writer_that_reads_first_still_waits_its_turn(site, db):
    """SELECT, then another's commit, then a write: deferred, this fails at once."""
    other = connect(site.database)
    with writing(db):
        head = log.head(db)
        with (
            pytest.raises(Exception, match="locked"),
            writing(quick(other)),
        ):
            raise AssertionError("two writers at once")
        assert log.head(db) == head
    with writing(other):
        other.conn.execute("DELETE FROM sign_in_failure")
    other.conn.close()


def quick(db):
    db.conn.execute("PRAGMA busy_timeout = 20")
    return db


def test_a_full_disk_is_told_as_one(app, cast, db, monkeypatch):
    """The page count is bounded, which SQLite answers as it does a full disk."""
    tablet = cast.tablet()
    tablet.sets(tablet.opens(), NAME, "ALDERMERE" * 2000)
    held = databases.connect

    def small(path):
        found = held(path)
        (pages,) = found.conn.execute("PRAGMA page_count").fetchone()
        found.conn.execute(f"PRAGMA max_page_count = {pages}")
        return found

    close_held()
    monkeypatch.setattr("webapp.app_db.connect", small)
    before = everything(db)
    reply = tablet.posts(tablet.request())
    assert reply.status == 507
    assert "disk is full" in reply.json["error"]
    assert everything(db) == before
    close_held()
    monkeypatch.setattr("webapp.app_db.connect", held)
    tablet.syncs()
    assert tablet.unsent() == []
