"""What was set aside may count later: and everybody hears of it."""

import pytest

from tests.support.replies import NAME, answers, everything
from webapp.record import arrival, desk, erase, log, not_kept, rulings, tablet_logs
from webapp.record import pull as pulling
from webapp.record.entry import DESK_LOG, decode_body, digest, sha256_hex
from webapp.record.framing import Opened
from webapp.record.keyring import Keyring
from webapp.record.open_record import open_record
from webapp.record.ruling import Judged
from webapp.say import say

SEALED = say("because.cannot_open")


def damaged(tablet):
    """Return a request of what is unsent, with one bit of the last seal changed."""
    body = bytearray(tablet.request())
    body[-1] ^= 1
    return bytes(body)


def rulings_in(db, record):
    desk = [e for e in log.entries_of(db, record) if e.header.log == DESK_LOG]
    entries = (decode_body(e.body) for e in desk)
    return [body["value"] for body in entries if body["path"] == rulings.RULINGS]


@pytest.fixture
def keyring(site):
    return Keyring(site.home)


def test_the_true_entry_after_a_damaged_one_is_kept_and_counts(tablet, db):
    record = tablet.opens()
    entry = tablet.sets(record, NAME, "ALDERMERE")
    assert answers(tablet.posts(damaged(tablet)).json) == [
        ("kept", "set_aside", SEALED)
    ]
    reply = tablet.posts(tablet.request()).json
    assert answers(reply) == [("kept", "counted", None)]
    assert reply["answers"][0]["position"] == 1
    assert open_record(db, record).case.answer(NAME).words == "ALDERMERE"
    [told] = rulings_in(db, record)
    (own,) = tablet.own
    true_digest = digest(own.header.encode(), sha256_hex(own.body))
    assert told == {"entry": entry, "ruling": "counted", "digest": true_digest}


def test_sent_once_more_the_true_entry_changes_nothing(tablet, db):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.posts(damaged(tablet))
    tablet.posts(tablet.request())
    before = everything(db)
    reply = tablet.posts(tablet.request()).json
    assert answers(reply) == [("had", "counted", None)]
    assert everything(db) == before


def test_the_true_entry_twice_in_one_request_is_taken_once(tablet, db):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.posts(damaged(tablet))
    (own,) = tablet.own
    reply = tablet.posts(tablet.request([own, own])).json
    assert answers(reply) == [("kept", "counted", None), ("had", "counted", None)]
    assert len(rulings_in(db, record)) == 1


@pytest.mark.parametrize("is_mended", [False, True])
def test_a_spoilt_copy_of_what_stands_changes_nothing(tablet, db, is_mended):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.posts(damaged(tablet))
    if is_mended:
        tablet.posts(tablet.request())
    before = everything(db)
    body = bytearray(tablet.request())
    body[-1] ^= 2
    reply = tablet.posts(bytes(body)).json
    [told] = answers(reply)
    assert told[:2] == ("had", "counted" if is_mended else "set_aside")
    assert everything(db) == before
    assert not_kept.shown(db) == []


def test_what_was_erased_while_sealed_is_had_when_it_comes_whole(tablet, db):
    record = tablet.opens()
    entry = tablet.sets(record, NAME, "ALDERMERE")
    tablet.posts(damaged(tablet))
    writer = desk.Writer("p", "O. Fell-Example", "supervisor", "Europe/Oslo")
    erase.erase(db, entry, writer, "another patient's")
    reply = tablet.posts(tablet.request()).json
    assert answers(reply)[0][:2] == ("had", "set_aside")
    assert not_kept.shown(db) == []
    assert log.entry_by_id(db, entry).body is None


def test_a_damaged_entry_that_may_not_count_is_set_aside_for_its_own_reason(tablet, db):
    record = tablet.opens()
    tablet.adds(record, "attestations", {"meaning": "operator"})
    tablet.posts(damaged(tablet))
    because = say("because.desk_only")
    reply = tablet.posts(tablet.request()).json
    assert answers(reply) == [("kept", "set_aside", because)]
    assert rulings_in(db, record)[0]["because"] == because


def test_a_key_that_comes_later_opens_what_was_sealed(tablet, db):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.posts(tablet.request(wraps=[]))
    reply = tablet.posts(tablet.request()).json
    assert answers(reply) == [("had", "counted", None)]
    assert open_record(db, record).case.answer(NAME).words == "ALDERMERE"


def test_a_tablet_past_the_entry_is_told_of_the_later_ruling(tablet, other_tablet, db):
    record = tablet.opens()
    tablet.sets(record, "patient.given_name", "TEST")
    tablet.syncs()
    other_tablet.opens(record)
    other_tablet.sets(record, "patient.age_note", "x")
    entry = tablet.sets(record, NAME, "ALDERMERE")
    tablet.posts(damaged(tablet))
    other_tablet.syncs()
    assert other_tablet.shows(record, NAME) == []
    tablet.posts(tablet.request())
    (share,) = other_tablet.exchanges()["pull"]
    ids = [e["header"].split("\n")[1] for e in share["entries"]]
    assert ids[0] == entry
    assert share["entries"][0]["counts"] == "counted"
    assert share["upto"] == share["entries"][1]["position"]
    assert other_tablet.shows(record, NAME) == ["ALDERMERE"]
    (again,) = other_tablet.exchanges()["pull"]
    assert again["entries"] == []


@pytest.mark.parametrize("room", [2, 3, 4, 5])
def test_shares_of_any_size_tell_every_ruling_and_come_to_an_end(
    tablet, db, room, monkeypatch
):
    record = tablet.opens()
    for n in range(3):
        tablet.sets(record, NAME, f"ALDER {n}")
    tablet.posts(tablet.request(wraps=[]))
    tablet.posts(tablet.request())
    monkeypatch.setattr(pulling, "MOST_ENTRIES", room)
    for start in range(7):
        since, told = start, {}
        for _ in range(20):
            (share,) = pulling.pull(db, [Opened(record, since, ())], lambda _: True)
            told |= {
                e.header.seq: e.ruling for e in share.entries if e.header.log != "desk"
            }
            assert share.upto >= since
            since = share.upto
            if not share.more:
                break
        assert not share.more
        assert since == 6
        known = {n: "counted" for n in (1, 2, 3) if n + 3 > start}
        assert known.items() <= told.items()


def test_a_newer_server_releases_what_an_older_one_could_not_read(
    tablet, db, keyring, monkeypatch
):

    record = tablet.opens()
    now = arrival.judged
    monkeypatch.setattr(arrival, "judged", lambda body: Judged("because.path"))
    tablet.sets(record, NAME, "ALDERMERE")
    assert answers(tablet.exchanges()) == [("kept", "set_aside", say("because.path"))]
    assert rulings.reconsider(db, keyring) == 0
    monkeypatch.setattr(arrival, "judged", now)
    assert rulings.reconsider(db, keyring) == 1
    assert rulings.reconsider(db, keyring) == 0
    assert open_record(db, record).case.answer(NAME).words == "ALDERMERE"
    row = db.conn.execute("SELECT who, set_aside FROM record").fetchone()
    assert tuple(row) == ("ALDERMERE", 0)


def test_what_a_revoked_tablet_sent_is_never_released(tablet, db, cast, keyring):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    cast.revokes(tablet)
    tablet.posts(tablet.request())
    (kept,) = log.entries_of(db, record)
    assert tablet_logs.was_revoked(db, kept)
    assert rulings.reconsider(db, keyring) == 0
