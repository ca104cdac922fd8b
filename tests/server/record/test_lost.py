"""A server that went back learns from tablets what nobody can send again."""

import sqlite3

import pytest

from tests.support.replies import NAME
from webapp.db import writing
from webapp.record import desk, desk_log, log, lost
from webapp.record.entry import DESK_LOG, Header, uuid7

WRITER = desk.Writer("p", "O. Fell-Example", "supervisor", "Europe/Oslo")


def signs(db, record):
    body = desk.body_of(WRITER, "settlements", "add", {"because": "as seen"})
    with writing(db):
        return desk_log.append(db, record, body)


def headers_of(db, record):
    return [e.header.encode().decode() for e in log.entries_of(db, record)]


@pytest.fixture
def gone_back(tablet, db):
    """A server put back to a copy from before two desk entries that a tablet read."""
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    first = signs(db, record)
    backup = sqlite3.connect(":memory:")
    db.conn.backup(backup)
    gone = [signs(db, record), signs(db, record)]
    tablet.syncs()
    held = headers_of(db, record)
    backup.backup(db.conn)
    backup.close()
    return record, first, gone, held


def told(tablet, record, held):
    """Return a request that tells what this tablet holds of others."""
    return tablet.request(
        open=[{"record": record, "since": 0, "tips": [], "holds": held}]
    )


def test_missing_desk_places_are_named_with_the_tablet_that_knows_them(
    tablet, db, gone_back
):
    record, _, gone, held = gone_back
    reply = tablet.posts(told(tablet, record, held)).json
    assert reply["lost"] == 2
    found = lost.missing(db)
    assert [(one.entry, one.log, one.seq) for one in found] == [
        (gone[0], DESK_LOG, 2),
        (gone[1], DESK_LOG, 3),
    ]
    assert {one.tablet for one in found} == {tablet.name}
    assert lost.missing(db, uuid7()) == []


def test_a_place_that_a_tablet_knows_is_not_used_again(tablet, db, gone_back):
    record, _, _, held = gone_back
    tablet.posts(told(tablet, record, held))
    entry = signs(db, record)
    assert log.entry_by_id(db, entry).header.seq == 4


def test_what_its_writer_sends_again_is_not_lost_any_more(tablet, other_tablet, db):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    other_tablet.opens(record)
    held = [tablet.own[0].header.encode().decode()]
    assert other_tablet.posts(told(other_tablet, record, held)).json["lost"] == 1
    tablet.syncs()
    assert lost.missing(db) == []


def test_what_a_tablet_put_back_cannot_send_again_is_named_as_well(tablet, db):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    own = [e.header.encode().decode() for e in tablet.own]
    opened = [{"record": record, "since": 0, "tips": [], "holds": own}]
    assert tablet.posts(tablet.request([], open=opened)).json["lost"] == 1


HELD = {
    "no text": [7],
    "no header": ["not a header"],
    "of another record": [
        Header(1, uuid7(), uuid7(), uuid7(), 1, "-").encode().decode()
    ],
    "a desk place no desk has reached": ["far"],
}


@pytest.mark.parametrize("held", HELD.values(), ids=HELD)
def test_what_cannot_be_held_is_not_called_lost(tablet, db, held):
    record = tablet.opens()
    if held == ["far"]:
        held = [Header(1, uuid7(), record, "desk", 2**52, "-").encode().decode()]
    reply = tablet.posts(told(tablet, record, held))
    assert (reply.status, reply.json["lost"]) == (200, 0)
    assert lost.missing(db) == []
