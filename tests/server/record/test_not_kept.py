"""What was not taken is kept aside and shown, until it is kept after all."""

from tests.support.replies import NAME
from webapp.record import not_kept
from webapp.record.entry import decode_header, uuid7
from webapp.record.framing import MOST_ENTRY_BYTES
from webapp.say import say


def shown(db, record=None):
    return [(n.answer, n.entry, n.because) for n in not_kept.shown(db, record)]


def conflicting(tablet, record):
    """Let two texts claim one place; return the id that lost."""
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    tablet.writer.tip -= 1
    return tablet.sets(record, NAME, "SOMEBODY ELSE")


def test_a_conflict_is_shown_in_its_record_with_its_bytes_kept(tablet, db):
    record = tablet.opens()
    loser = conflicting(tablet, record)
    for _ in range(2):
        tablet.exchanges([tablet.own[-1]])
    assert shown(db, record) == [("conflict", loser, say("conflict.taken"))]
    (sealed,) = db.conn.execute("SELECT sealed FROM not_kept").fetchone()
    assert sealed == tablet.own[-1].sealed


def test_a_conflict_that_is_kept_later_in_another_place_is_settled(tablet, db):
    record = tablet.opens()
    loser = conflicting(tablet, record)
    tablet.exchanges([tablet.own[-1]])
    moved = tablet.writer.write_body(record, loser, tablet.own[-1].body)
    reply = tablet.exchanges([moved])
    assert reply["answers"][0]["answer"] == "kept"
    assert shown(db) == []


def test_an_old_request_for_an_entry_that_moved_is_had(tablet, db):
    record = tablet.opens()
    loser = conflicting(tablet, record)
    moved = tablet.writer.write_body(record, loser, tablet.own[-1].body)
    tablet.exchanges([moved])
    reply = tablet.exchanges([tablet.own[-1]])
    assert [a["answer"] for a in reply["answers"]] == ["had"]
    assert shown(db) == []


def test_another_tablets_log_is_shown_as_refused(tablet, other_tablet, db):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    other_tablet.opens(record)
    other_tablet.writer.log = tablet.writer.log
    other_tablet.writer.tip = 7
    forged = other_tablet.sets(record, NAME, "SOMEBODY ELSE")
    other_tablet.exchanges(other_tablet.own)
    assert shown(db, record) == [("refused", forged, say("refused.log"))]


def test_what_is_too_large_is_shown_and_its_bytes_are_not_kept(tablet, db):
    record = tablet.opens()
    entry = tablet.writes_bytes(record, b"x" * (MOST_ENTRY_BYTES + 1))
    tablet.exchanges()
    assert shown(db, record) == [("refused", entry, say("refused.size"))]
    (sealed,) = db.conn.execute("SELECT sealed FROM not_kept").fetchone()
    assert sealed is None


def test_an_unreadable_header_is_shown_where_no_record_is(tablet, db):
    entry = uuid7()
    header = f"1\n{entry}\nnot a record\n"
    tablet.posts(tablet.request([], entries=[{"header": header, "sealed": 0}]))
    assert shown(db, "") == [("refused", entry, say("refused.header"))]
    (kept,) = db.conn.execute("SELECT header FROM not_kept").fetchone()
    assert kept == header


def test_a_kept_entry_is_not_shown(tablet, db):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    assert shown(db) == []
    assert decode_header(tablet.own[0].header.encode()).record == record
