"""What receipt refuses, and what conflicts with what is there."""

import pytest

from tests.support.replies import NAME, answers, everything
from webapp.record import log
from webapp.record.entry import uuid7
from webapp.say import say


def test_a_good_entry_beside_a_bad_one_is_kept(tablet, db):
    record = tablet.opens()
    for number in range(3):
        tablet.sets(record, NAME, f"ALDER {number}")
    items = [e.as_json() for e in tablet.own]
    items[1]["header"] = "not a header"
    body = tablet.request(tablet.own, entries=items)
    reply = tablet.posts(body)
    assert reply.status == 200
    assert [a["answer"] for a in reply.json["answers"]] == ["kept", "refused", "kept"]
    assert reply.json["answers"][1]["because"] == say("refused.header")
    assert len(log.entries_of(db, record)) == 2


HEADERS = {
    "no text": 7,
    "missing": None,
    "empty": "",
    "five lines": "1\n{id}\n{record}\n{log}\n1\n",
    "no last line end": "1\n{id}\n{record}\n{log}\n1\n-",
    "id is no UUIDv7": "1\nx\n{record}\n{log}\n1\n-\n",
    "seq is nought": "1\n{id}\n{record}\n{log}\n0\n-\n",
    "seq with a nought before": "1\n{id}\n{record}\n{log}\n01\n-\n",
    "seq too large": "1\n{id}\n{record}\n{log}\n9007199254740992\n-\n",
    "upper case": "1\n{ID}\n{record}\n{log}\n1\n-\n",
    "half a surrogate": "1\n{id}\n{record}\n{log}\n1\n\ud800\n",
    "carriage returns": "1\r\n{id}\r\n{record}\r\n{log}\r\n1\r\n-\r\n",
}


@pytest.mark.parametrize("header", HEADERS.values(), ids=HEADERS)
def test_an_unreadable_header_is_refused_by_name_where_it_gives_one(tablet, db, header):
    entry_id, record = uuid7(), tablet.opens()
    if isinstance(header, str):
        names = {"id": entry_id, "ID": entry_id.upper(), "record": record}
        header = header.format(log=tablet.writer.log, **names)
    items = [{"header": header, "sealed": 0}]
    reply = tablet.posts(tablet.request([], entries=items))
    assert reply.status == 200
    (told,) = reply.json["answers"]
    assert told["answer"] == "refused"
    assert told["id"] in (entry_id, None)
    assert log.head(db).position == 0


def test_another_tablets_log_is_refused(tablet, other_tablet, db):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    forged = other_tablet.opens(record)
    other_tablet.writer.log = tablet.writer.log
    other_tablet.writer.tip = 1
    other_tablet.sets(forged, NAME, "SOMEBODY ELSE")
    reply = other_tablet.exchanges(other_tablet.own)
    assert answers(reply) == [("refused", None, say("refused.log"))]
    assert reply["logs"] == []
    assert len(log.entries_of(db, record)) == 1


def test_the_desks_log_is_refused(tablet, db):
    record, entry = tablet.opens(), uuid7()
    items = [{"header": f"1\n{entry}\n{record}\ndesk\n1\n-\n", "sealed": 0}]
    reply = tablet.posts(tablet.request([], entries=items)).json
    assert answers(reply) == [("refused", None, say("refused.log"))]
    assert log.head(db).position == 0


def test_an_entry_larger_than_one_may_be_is_refused_and_the_others_are_kept(tablet, db):
    record = tablet.opens()
    tablet.sets(record, "approach.remark", "x" * 65_536)
    tablet.sets(record, NAME, "ALDERMERE")
    reply = tablet.exchanges()
    assert answers(reply)[0] == ("refused", None, say("refused.size"))
    assert answers(reply)[1][0] == "kept"


def test_another_entry_in_the_same_place_is_a_conflict(tablet, db):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    tablet.writer.tip = 0
    tablet.sets(record, NAME, "ANOTHER", seen=[])
    before = everything(db)
    reply = tablet.exchanges(tablet.own[1:])
    assert answers(reply) == [("conflict", None, say("conflict.taken"))]
    assert everything(db) == before


def test_the_same_id_in_another_place_is_a_conflict(tablet, db):
    record = tablet.opens()
    entry = tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    again = tablet.writer.write_body(record, entry, tablet.own[0].body)
    reply = tablet.exchanges([again])
    assert answers(reply) == [("conflict", None, say("conflict.taken"))]


def test_the_same_id_and_place_with_another_body_is_a_conflict(tablet):
    record = tablet.opens()
    entry = tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    tablet.writer.tip = 0
    tablet.sets(record, NAME, "ANOTHER", seen=[])
    tablet.writer.tip = 0
    again = tablet.writer.write_body(record, entry, tablet.own[1].body)
    reply = tablet.exchanges([again])
    assert answers(reply) == [("conflict", None, say("conflict.taken"))]
