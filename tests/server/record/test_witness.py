"""The head of the log, and those who saw it."""

import sqlite3

from tests.support.replies import NAME
from webapp.record import log, witness
from webapp.record.log import Head


def test_the_head_told_is_the_one_kept_as_a_witness(tablet, db):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    reply = tablet.syncs()
    rows = db.conn.execute(
        "SELECT position, chain FROM witness WHERE tablet = ?", (tablet.id,)
    )
    head = reply["head"]
    assert [tuple(r) for r in rows] == [(head["position"], head["chain"])]


def test_a_head_seen_before_is_known(tablet):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    assert tablet.syncs()["head_known"] is None
    tablet.sets(record, NAME, "ANOTHER")
    reply = tablet.syncs()
    assert (reply["head_known"], reply["went_back"]) == (True, False)


def test_a_server_restored_from_yesterday_says_so_and_gets_everything_again(
    tablet, other_tablet, site, db
):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    other_tablet.opens(record)
    other_tablet.sets(record, "patient.given_name", "TEST")
    other_tablet.syncs()
    backup = sqlite3.connect(":memory:")
    db.conn.backup(backup)
    for number in range(3):
        tablet.sets(record, NAME, f"ALDER {number}")
    tablet.syncs()
    backup.backup(db.conn)
    reply = tablet.exchanges()
    assert (reply["head_known"], reply["went_back"]) == (False, True)
    assert {a["answer"] for a in reply["answers"]} <= {"kept"}
    given = {e["position"] for share in reply["pull"] for e in share["entries"]}
    assert given == {1, 2}
    tablet.syncs()
    assert len(log.entries_of(db, record)) == 5
    assert tablet.unsent() == []
    assert tablet.syncs()["went_back"] is False


def test_a_head_from_elsewhere_is_kept_as_evidence(tablet, db):
    seen = {"position": 7, "chain": "ab" * 32}
    reply = tablet.posts(tablet.request(head=seen)).json
    assert (reply["head_known"], reply["went_back"]) == (False, True)
    found = [(w, head) for w, head, _ in witness.unknown_heads(db)]
    assert found == [(tablet.id, Head(7, "ab" * 32))]


def test_resent_entries_that_rebuild_the_same_head_do_not_hide_the_way_back(tablet, db):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    backup = sqlite3.connect(":memory:")
    tablet.exchanges([])
    db.conn.backup(backup)
    tablet.syncs()
    seen = tablet.head
    backup.backup(db.conn)
    reply = tablet.posts(tablet.request(tablet.own)).json
    assert reply["head"]["chain"] == seen["chain"]
    assert reply["went_back"] is True
