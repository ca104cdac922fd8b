"""`POST /sync`, driven by a tablet made of Python over the real protocol."""

import sqlite3

import pytest

from tests.support.cast import PASSWORD
from tests.support.tablet import CONTENT_TYPE, stamp
from webapp.people import access_log
from webapp.record import log, records, witness
from webapp.record.entry import chain, decode_body, digest, sha256_hex, uuid7
from webapp.record.log import Head
from webapp.record.open_record import open_record
from webapp.say import say

NAME = "patient.family_name"
DECISION = {
    "name": "decision",
    "moment": {
        "utc": "2031-11-24T10:41:00.000Z",
        "zone": "Europe/Oslo",
        "offset_min": 60,
        "certainty": "exact",
        "clock": "tablet",
    },
}


@pytest.fixture
def tablet(cast):
    return cast.tablet("tablet 2")


@pytest.fixture
def other(cast):
    return cast.tablet("tablet 3")


def everything(db):
    """All that one exchange may change for the record, as it stands."""
    tables = (
        "SELECT * FROM entry",
        "SELECT * FROM body",
        "SELECT * FROM ruling",
        "SELECT * FROM record",
    )
    return [[tuple(row) for row in db.conn.execute(table)] for table in tables]


def answers(reply):
    return [(a["answer"], a["counts"], a["because"]) for a in reply["answers"]]


# Who may


def test_a_cookie_alone_is_nobody(cast):
    administrator = cast.administrator
    administrator.signs_in()
    answer = administrator.client.post("/sync", data=b"", content_type=CONTENT_TYPE)
    assert answer.status_code == 401
    assert answer.json["ok"] is False


@pytest.mark.parametrize(
    "authorization",
    [None, "", "Bearer", "Bearer ", "Bearer nobody", "Basic dDp0", "Bearer \xe6\xf8"],
)
def test_no_token_that_is_known_is_nobody(client, tablet, authorization):
    headers = {"Authorization": authorization} if authorization is not None else {}
    answer = client.post(
        "/sync", data=tablet.request(), headers=headers, content_type=CONTENT_TYPE
    )
    assert answer.status_code == 401


def test_the_token_needs_no_form_token_and_gets_no_cookie(client, tablet):
    answer = client.post(
        "/sync",
        data=tablet.request(),
        headers={"Authorization": f"bearer {tablet.token}"},
        content_type=CONTENT_TYPE,
    )
    assert answer.status_code == 200
    assert "Set-Cookie" not in answer.headers


@pytest.mark.parametrize("method", ["get", "put", "delete"])
def test_no_other_method_is_taken(client, method):
    assert getattr(client, method)("/sync").status_code == 405


# What is kept


def test_an_entry_is_kept_counted_and_chained_to_the_genesis(tablet, db):
    record = tablet.opens()
    entry = tablet.sets(record, NAME, "ALDERMERE")
    reply = tablet.syncs()
    assert answers(reply) == [("kept", "counted", None)]
    (kept,) = log.entries_of(db, record)
    sent = tablet.own[0]
    raw = sent.header.encode()
    assert (kept.header.id, kept.body, kept.form) == (entry, sent.body, "opened")
    assert kept.digest == digest(raw, sha256_hex(sent.body))
    assert kept.chain == chain("0" * 64, kept.digest)
    assert reply["head"] == {"position": 1, "chain": kept.chain}


def test_a_name_of_any_kind_arrives_as_typed(tablet, db):
    for name in ("<b>Ó'Brien & Søn</b>", "山田 محمد e\u0301 👨‍👩‍👧", "x" * 80):
        record = tablet.opens()
        tablet.sets(record, NAME, name)
        tablet.syncs()
        (kept,) = log.entries_of(db, record)
        assert decode_body(kept.body)["value"] == name


def test_two_thousand_letters_without_a_space_are_kept_and_counted(tablet, db):
    record = tablet.opens()
    tablet.sets(record, NAME, "x" * 2000)
    assert answers(tablet.syncs()) == [("kept", "counted", None)]


def test_an_impossible_value_is_kept_as_typed_and_counts(tablet, db):
    record = tablet.opens()
    tablet.sets(record, "patient.weight", {"as": "900", "n": "900", "unit": "kg"})
    assert answers(tablet.syncs()) == [("kept", "counted", None)]


def test_the_same_batch_twice_changes_nothing(tablet, db):
    record = tablet.opens()
    for number in range(3):
        tablet.sets(record, NAME, f"ALDER {number}")
    body = tablet.request()
    first = tablet.posts(body).json
    before = everything(db)
    second = tablet.posts(body).json
    assert everything(db) == before
    assert answers(second) == [("had", "counted", None)] * 3
    positions = [[a["position"] for a in r["answers"]] for r in (first, second)]
    assert positions[0] == positions[1] == [1, 2, 3]
    assert second["head"] == first["head"]


def test_a_lost_reply_changes_nothing_when_the_batch_comes_again(tablet, db):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.loses_reply()
    before = everything(db)
    assert answers(tablet.syncs()) == [("had", "counted", None)]
    assert everything(db) == before
    assert tablet.unsent() == []


def test_one_entry_twice_in_one_batch_is_kept_once(tablet, db):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    reply = tablet.exchanges(tablet.own * 2)
    assert answers(reply) == [("kept", "counted", None), ("had", "counted", None)]
    assert len(log.entries_of(db, record)) == 1


def test_entries_sealed_anew_with_the_same_body_are_the_same(tablet):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.exchanges()
    entry = tablet.own[0]
    tablet.writer.tip -= 1
    again = tablet.writer.write_body(record, entry.header.id, entry.body)
    assert again.sealed != entry.sealed
    assert answers(tablet.exchanges([again])) == [("had", "counted", None)]


def test_batches_in_any_order_leave_no_gap(tablet):
    record = tablet.opens()
    for number in range(4):
        tablet.sets(record, NAME, f"ALDER {number}")
    held = [tablet.exchanges([tablet.own[n]])["logs"][0]["held"] for n in (3, 0, 2, 1)]
    assert held == [0, 1, 1, 4]


def test_more_than_one_request_takes_go_in_several(tablet, db):
    record = tablet.opens()
    for _ in range(1100):
        tablet.sets(record, NAME, "ALDERMERE", seen=[])
    tablet.syncs()
    assert tablet.unsent() == []
    assert len(log.entries_of(db, record)) == 1100
    assert len(tablet.pulled[record]) == 1100


# What is refused, and what conflicts


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


def test_another_tablets_log_is_refused(tablet, other, db):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    forged = other.opens(record)
    other.writer.log = tablet.writer.log
    other.writer.tip = 1
    other.sets(forged, NAME, "SOMEBODY ELSE")
    reply = other.exchanges(other.own)
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


# What is set aside


def test_a_path_that_is_not_there_is_kept_and_set_aside(tablet, db):
    record = tablet.opens()
    for path in ("patient.shoe_size", "x", "wires/x/approach.site", "a.b.c", "wires//"):
        tablet.sets(record, path, "44")
    reply = tablet.syncs()
    assert answers(reply) == [("kept", "set_aside", say("because.path"))] * 5
    assert open_record(db, record).counted == []
    assert len(open_record(db, record).set_aside) == 5


WRONG_VALUES = {
    "no text": (NAME, 7),
    "true": (NAME, True),
    "null": (NAME, None),
    "a list": (NAME, ["ALDERMERE"]),
    "no choice": ("patient.sex", "tall"),
    "a bare number": ("patient.weight", 80),
    "a quantity without its text": ("patient.weight", {"n": "80", "unit": "kg"}),
    "an absence nobody knows": (NAME, {"absent": "perhaps"}),
}


@pytest.mark.parametrize(("path", "value"), WRONG_VALUES.values(), ids=WRONG_VALUES)
def test_a_value_of_another_kind_is_kept_and_set_aside(tablet, path, value):
    record = tablet.opens()
    tablet.sets(record, path, value)
    assert answers(tablet.syncs()) == [("kept", "set_aside", say("because.value"))]


@pytest.mark.parametrize(
    "path", ["attestations", "addenda", "joined_to", "settlements"]
)
def test_what_is_written_at_the_desk_never_counts_from_a_tablet(tablet, path):
    record = tablet.opens()
    tablet.adds(record, path, {"statement": "I sign this"})
    tablet.sets(record, path, "x")
    reply = tablet.syncs()
    assert answers(reply) == [("kept", "set_aside", say("because.desk_only"))] * 2


OTHER_OPS = {
    "a row added to no group": ("add", NAME, "ALDERMERE"),
    "a group set as a value": ("set", "moments", DECISION),
    "an absence added as a row": ("add", "moments", {"absent": "not_known"}),
    "a strike of a value": ("strike", NAME, {"strikes": uuid7(), "reason": None}),
}


@pytest.mark.parametrize(("op", "path", "value"), OTHER_OPS.values(), ids=OTHER_OPS)
def test_what_a_field_does_not_take_is_set_aside(tablet, op, path, value):
    record = tablet.opens()
    verbs = {"add": tablet.adds, "set": tablet.sets}
    if op == "strike":
        tablet.strikes(record, path, value["strikes"])
    else:
        verbs[op](record, path, value)
    assert answers(tablet.syncs()) == [("kept", "set_aside", say("because.op"))]


def test_a_group_can_be_said_to_be_absent(tablet):
    record = tablet.opens()
    tablet.sets(record, "indication.drugs_given", {"absent": "not_known"})
    assert answers(tablet.syncs()) == [("kept", "counted", None)]


def test_what_a_revoked_tablet_still_holds_is_kept_and_set_aside(cast, tablet, db):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    tablet.sets(record, NAME, "ANOTHER")
    cast.revokes(tablet)
    reply = tablet.exchanges()
    assert answers(reply) == [("kept", "set_aside", say("because.revoked"))]
    assert len(open_record(db, record).counted) == 1


def test_a_revoked_tablet_is_told_nothing_of_records_and_people(cast, tablet):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    cast.revokes(tablet)
    reply = tablet.exchanges()
    assert reply["pull"] == []
    assert reply["people"] == []
    assert reply["revoked"] is True


def test_an_entry_without_its_key_is_kept_sealed_and_set_aside(tablet, db):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    reply = tablet.posts(tablet.request(wraps=[])).json
    assert answers(reply) == [("kept", "set_aside", say("because.cannot_open"))]
    (kept,) = log.entries_of(db, record)
    assert (kept.form, kept.body) == ("sealed", tablet.own[0].sealed)
    assert kept.digest == digest(
        tablet.own[0].header.encode(), sha256_hex(tablet.own[0].sealed)
    )


def test_an_entry_kept_sealed_is_had_when_its_key_comes_later(tablet, db):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.posts(tablet.request(wraps=[]))
    before = everything(db)
    reply = tablet.posts(tablet.request()).json
    assert answers(reply) == [("had", "set_aside", say("because.cannot_open"))]
    assert everything(db) == before


def test_one_flipped_bit_is_found(tablet):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    body = bytearray(tablet.request())
    body[-1] ^= 1
    reply = tablet.posts(bytes(body)).json
    assert answers(reply) == [("kept", "set_aside", say("because.cannot_open"))]


def test_a_sealed_body_moved_to_another_record_does_not_open(tablet):
    record, elsewhere = tablet.opens(), uuid7()
    tablet.sets(record, NAME, "ALDERMERE")
    (item,) = [e.as_json() for e in tablet.own]
    item["header"] = item["header"].replace(record, elsewhere)
    reply = tablet.posts(tablet.request(entries=[item])).json
    assert answers(reply) == [("kept", "set_aside", say("because.cannot_open"))]


def test_a_key_is_remembered_for_the_next_batch(tablet):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    tablet.sets(record, NAME, "ANOTHER")
    reply = tablet.posts(tablet.request(wraps=[])).json
    assert answers(reply) == [("kept", "counted", None)]


UNREADABLE = {
    "nothing": b"",
    "no JSON": b"{",
    "no object": b"[]",
    "no UTF-8": b'{"path":"\xff"}',
    "no keys": b"{}",
    "deeper than can be read": b"[" * 20_000,
    "half a surrogate": None,
    "a fraction": None,
    "an integer past 2^53": None,
    "no salt": None,
}
CHANGES = {
    "half a surrogate": (b'"ALDERMERE"', b'"\\ud800"'),
    "a fraction": (b'"ALDERMERE"', b"1.5"),
    "an integer past 2^53": (b'"ALDERMERE"', b"9007199254740993"),
    "no salt": (b'"salt":"', b'"salt":"z'),
}


@pytest.mark.parametrize("case", UNREADABLE)
def test_a_body_that_cannot_be_read_is_kept_and_set_aside(tablet, db, case):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    good = tablet.own.pop().body
    tablet.writer.tip = 0
    old, new = CHANGES.get(case, (b"", b""))
    raw = UNREADABLE[case] if case not in CHANGES else good.replace(old, new)
    tablet.writes_bytes(record, raw)
    reply = tablet.posts(tablet.request(tablet.own)).json
    assert answers(reply) == [("kept", "set_aside", say("because.unreadable"))]
    (kept,) = log.entries_of(db, record)
    assert kept.body == raw
    assert records.one_listed(db, record).set_aside == 1


def test_an_entry_of_a_newer_version_is_kept_and_set_aside(tablet):
    from dataclasses import replace

    from webapp.record.seal import seal
    from webapp.record.writer import SealedEntry

    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    entry = tablet.own.pop()
    header = replace(entry.header, v=2)
    _, key = tablet.writer._keys[record]
    tablet.own.append(
        SealedEntry(header, entry.body, seal(key, header.encode(), entry.body))
    )
    reply = tablet.exchanges()
    assert answers(reply) == [("kept", "set_aside", say("because.version"))]


FRAMES = {
    "at without a zone": ({"at": {"utc": "2031-11-24T10:41:07.123Z"}}, "because.at"),
    "a fraction of a skew": (
        {"at": {**stamp("Europe/Oslo"), "skew_ms": "1"}},
        "because.at",
    ),
    "an author without a role": (
        {"author": {"person": None, "name": "x"}},
        "because.author",
    ),
    "a caller without a name": ({"called_by": {"role": "operator"}}, "because.author"),
    "a person that is a number": (
        {"entered_by": {"person": 7, "name": "x", "role": "nurse"}},
        "because.author",
    ),
}


@pytest.mark.parametrize(("change", "because"), FRAMES.values(), ids=FRAMES)
def test_who_and_when_must_be_told(tablet, change, because):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE", **change)
    assert answers(tablet.syncs()) == [("kept", "set_aside", say(because))]


def test_having_seen_an_entry_of_another_field_or_record_is_set_aside(tablet):
    record, elsewhere = tablet.opens(), tablet.opens()
    name = tablet.sets(record, NAME, "ALDERMERE")
    tablet.sets(record, "patient.given_name", "TEST", seen=[name])
    tablet.sets(elsewhere, NAME, "ANOTHER", seen=[name])
    tablet.syncs()
    own = tablet.sets(record, "patient.given_name", "TEST", seen=[name])
    assert answers(tablet.syncs()) == [("kept", "set_aside", say("because.seen"))]
    assert len(tablet.set_aside) == 3
    assert own in tablet.set_aside


def test_having_seen_what_is_not_here_yet_is_no_fault(tablet, other):
    record = tablet.opens()
    first = tablet.sets(record, NAME, "ALDERMERE")
    second = tablet.sets(record, NAME, "ANOTHER")
    later = tablet.exchanges(tablet.own[1:])
    assert answers(later) == [("kept", "counted", None)]
    tablet.syncs()
    assert tablet.fold(record)["values"][NAME] == [
        {"value": "ANOTHER", "entries": [second]}
    ]
    assert first not in tablet.set_aside


def test_an_add_that_has_seen_something_is_set_aside(tablet):
    from webapp.record.entry import encode_body

    record = tablet.opens()
    row = tablet.adds(record, "moments", DECISION)
    body = decode_body(tablet.own[0].body)
    tablet.writes_bytes(record, encode_body({**body, "seen": [row]}))
    reply = tablet.syncs()
    assert answers(reply)[1] == ("kept", "set_aside", say("because.seen"))


def test_rows_are_struck_and_brought_back(tablet, db):
    record = tablet.opens()
    row = tablet.adds(record, "moments", DECISION)
    strike = tablet.strikes(record, "moments", row, "wrong case")
    tablet.syncs()
    (shown,) = open_record(db, record).case.rows("moments", struck=True)
    assert shown.struck == {"by": strike, "reason": "wrong case"}
    tablet.strikes(record, "moments", strike)
    tablet.syncs()
    (shown,) = open_record(db, record).case.rows("moments")
    assert shown.struck is None


def test_a_strike_of_anything_but_a_row_of_the_same_field_is_set_aside(tablet):
    record, elsewhere = tablet.opens(), tablet.opens()
    name = tablet.sets(record, NAME, "ALDERMERE")
    row = tablet.adds(record, "moments", DECISION)
    tablet.strikes(record, "moments", name)
    tablet.strikes(record, "wires", row)
    tablet.strikes(elsewhere, "moments", row)
    reply = tablet.syncs()
    told = [because for _, _, because in answers(reply)]
    assert told == [None, None, *[say("because.strike")] * 3]


def test_a_strike_that_names_nothing_is_set_aside(tablet):
    record = tablet.opens()
    for target in ("x", 7, None):
        tablet.strikes(record, "moments", target)
    reply = tablet.syncs()
    assert answers(reply) == [("kept", "set_aside", say("because.value"))] * 3


def test_an_entry_that_saw_one_that_was_set_aside_still_counts(tablet):
    record = tablet.opens()
    wrong = tablet.sets(record, NAME, 7)
    tablet.sets(record, NAME, "ALDERMERE", seen=[wrong])
    told = answers(tablet.syncs())
    assert told[1] == ("kept", "counted", None)


# What the log promises


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE entry SET digest = 'x'",
        "UPDATE entry SET chain = 'x' WHERE position = 1",
        "DELETE FROM entry",
        "INSERT OR REPLACE INTO entry SELECT 1, v, id, record, log, seq, key,"
        " body_sha256, 'x', chain, received_at FROM entry",
        "INSERT OR REPLACE INTO entry SELECT 9, v, id, record, log, seq, key,"
        " body_sha256, 'x', chain, received_at FROM entry",
        "REPLACE INTO entry SELECT position, v, 'x', record, log, seq, key,"
        " body_sha256, digest, chain, received_at FROM entry",
        "UPDATE body SET bytes = x'00'",
        "DELETE FROM body",
        "INSERT OR REPLACE INTO body SELECT position, form, x'00' FROM body",
        "UPDATE ruling SET ruling = 'set_aside'",
        "INSERT INTO ruling SELECT NULL, position, 'set_aside', 'x', '1', 'now'"
        " FROM ruling",
    ],
)
@pytest.mark.parametrize("recursive", ["ON", "OFF"])
def test_a_raw_connection_changes_nothing_that_was_kept(
    tablet, db, site, statement, recursive
):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    before = everything(db)
    raw = sqlite3.connect(site.database)
    raw.execute(f"PRAGMA recursive_triggers = {recursive}")
    with pytest.raises(sqlite3.IntegrityError, match=r"never|only"):
        raw.execute(statement)
    raw.rollback()
    raw.close()
    assert everything(db) == before


def test_nothing_of_a_batch_is_kept_when_its_keeping_fails(tablet, db, monkeypatch):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    before = everything(db)

    def fails(*_):
        raise sqlite3.OperationalError("disk I/O error")

    monkeypatch.setattr(witness, "bear", fails)
    with pytest.raises(sqlite3.OperationalError):
        tablet.posts(tablet.request())
    assert everything(db) == before
    monkeypatch.undo()
    assert answers(tablet.syncs()) == [("kept", "counted", None)]


def test_a_failure_to_refold_loses_no_answer(tablet, db, monkeypatch):
    from webapp.views import sync

    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")

    def fails(*_):
        raise RecursionError("a record nobody can fold")

    monkeypatch.setattr(sync, "refresh", fails)
    assert answers(tablet.syncs()) == [("kept", "counted", None)]
    assert records.one_listed(db, record) is None
    monkeypatch.undo()
    assert records.refresh_stale(db) == 1
    assert records.one_listed(db, record).who == "ALDERMERE"


def test_the_records_list_is_up_to_date_when_the_reply_comes(tablet, db):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    assert records.one_listed(db, record).who == "ALDERMERE"


# Head and witnesses


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
    tablet, other, site, db
):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    other.opens(record)
    other.sets(record, "patient.given_name", "TEST")
    other.syncs()
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


# Pull


def test_two_tablets_edit_one_field_unseen_and_both_show_two_answers(tablet, other, db):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    other.opens(record)
    other.sets(record, NAME, "ALDERMEER")
    other.syncs()
    tablet.syncs()
    for one in (tablet, other):
        assert sorted(one.shows(record, NAME)) == ["ALDERMEER", "ALDERMERE"]
    assert open_record(db, record).case.answer(NAME).state == "two_answers"
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    other.syncs()
    for one in (tablet, other):
        assert one.shows(record, NAME) == ["ALDERMERE"]
    assert tablet.fold(record) == other.fold(record)


def test_a_pulled_entry_has_the_very_bytes_that_were_sealed(tablet, other):
    record = tablet.opens()
    tablet.sets(record, NAME, "山田 👨‍👩‍👧 <b>")
    tablet.syncs()
    other.opens(record)
    other.sets(record, "patient.given_name", "TEST")
    other.syncs()
    sent = tablet.own[0]
    given = other.pulled[record][sent.header.id]
    assert given.header == sent.header.encode()
    assert given.body.encode() == sent.body


def test_a_tablet_learns_how_its_own_entries_were_ruled(tablet):
    record = tablet.opens()
    wrong = tablet.sets(record, NAME, 7)
    tablet.syncs()
    given = tablet.pulled[record][wrong]
    assert given.counts == "set_aside"


def test_a_pull_goes_on_where_the_last_one_ended(tablet, other):
    record = tablet.opens()
    for _ in range(700):
        tablet.sets(record, NAME, "ALDERMERE", seen=[])
    tablet.exchanges()
    tablet.exchanges()
    other.opens(record)
    other.sets(record, "patient.given_name", "TEST")
    first = other.exchanges()["pull"][0]
    assert (len(first["entries"]), first["more"]) == (500, True)
    second = other.exchanges()["pull"][0]
    assert (len(second["entries"]), second["more"]) == (201, False)
    third = other.exchanges()["pull"][0]
    assert (third["entries"], third["more"]) == ([], False)
    assert third["upto"] == second["upto"]


def test_one_reply_shares_its_room_among_the_open_records(tablet):
    one, two = tablet.opens(), tablet.opens()
    for _ in range(300):
        tablet.sets(one, NAME, "ALDERMERE", seen=[])
        tablet.sets(two, NAME, "ANOTHER", seen=[])
    tablet.exchanges()
    shares = tablet.exchanges()["pull"]
    given = {s["record"]: (len(s["entries"]), s["more"]) for s in shares}
    assert sum(count for count, _ in given.values()) <= 500
    tablet.syncs()
    assert len(tablet.pulled[one]) == len(tablet.pulled[two]) == 300


def test_pull_all_gives_everything_again(tablet):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    assert tablet.posts(tablet.request()).json["pull"][0]["entries"] == []
    again = tablet.posts(tablet.request(pull_all=True)).json["pull"][0]
    assert len(again["entries"]) == 1


def test_a_sealed_entry_is_pulled_without_a_body(tablet):
    record = tablet.opens()
    entry = tablet.sets(record, NAME, "ALDERMERE")
    tablet.posts(tablet.request(wraps=[]))
    tablet.syncs()
    assert tablet.pulled[record][entry].body is None


def test_a_record_of_other_tablets_is_closed_without_a_grant(tablet, other):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    other.opens(record)
    (share,) = other.exchanges()["pull"]
    assert share == {
        "record": record,
        "entries": [],
        "upto": 0,
        "more": False,
        "closed": True,
    }


def test_a_record_that_is_not_there_looks_the_same_as_a_closed_one(tablet):
    tablet.opens()
    (share,) = tablet.exchanges()["pull"]
    assert (share["entries"], share["closed"]) == ([], True)


def test_a_person_who_signed_in_opens_the_record_of_another_tablet(
    cast, tablet, other, db
):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    signer = cast.signer.person
    other.opens(record)
    other.signs_in(signer.login, PASSWORD)
    other.syncs()
    assert other.shows(record, NAME) == ["ALDERMERE"]
    (line,) = [x for x in access_log.of_record(db, record) if x.tablet == other.id]
    assert (line.what, line.person) == ("record:pull", signer.id)


@pytest.mark.parametrize("grant", ["", "nobody", "\xe6"])
def test_no_other_grant_opens_a_record(tablet, other, grant):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    other.opens(record)
    other.grant = grant
    assert other.exchanges()["pull"][0]["entries"] == []


def test_a_record_read_from_its_start_is_noted_once(tablet, db):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    tablet.sets(record, NAME, "ANOTHER")
    tablet.syncs()
    whats = [line.what for line in access_log.of_record(db, record)]
    assert whats == ["record:pull"]


def test_the_reply_names_the_people_the_policy_and_the_servers_key(cast, tablet, app):
    cast.signer  # noqa: B018 - named, so that she exists
    reply = tablet.syncs()
    assert [p["name"] for p in reply["people"]] == ["Test-Ines ALDERMERE"]
    assert reply["policy"]["version"]
    assert reply["server_key"] == app.extensions["keyring"].current().public()
    assert reply["server_time"].endswith("Z")


# Tips


def test_what_a_tablet_holds_back_is_known_to_the_signer(tablet, db):
    from webapp.record.signing import undelivered

    record = tablet.opens()
    for number in range(3):
        tablet.sets(record, NAME, f"ALDER {number}")
    tablet.exchanges(tablet.own[:1])
    (one,) = undelivered(db, record)
    assert (one.name, one.missing) == ("tablet 2", 2)
    tablet.syncs()
    (one,) = undelivered(db, record)
    assert one.missing == 0


def test_a_tablet_that_only_has_a_record_open_is_known_too(tablet, other, db):
    from webapp.record.signing import undelivered

    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    other.opens(record)
    other.syncs()
    assert [(u.name, u.missing) for u in undelivered(db, record)] == [
        ("tablet 2", 0),
        ("tablet 3", 0),
    ]


def test_nobody_announces_for_another_tablets_log(tablet, other, db):
    from webapp.record.signing import undelivered

    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    tip = {"log": tablet.writer.log, "seq": 900}
    told = [{"record": record, "since": 0, "tips": [tip]}]
    logs = [{"log": tablet.writer.log, "tip": 900}]
    assert other.posts(other.request(open=told, logs=logs)).status == 200
    assert [u.missing for u in undelivered(db, record)] == [0, 0]


# Framing


def test_another_content_type_is_told(tablet):
    reply = tablet.posts(tablet.request(), **{"Content-Type": "text/plain"})
    assert reply.status == 400
    assert reply.json["errors"][0]["field"] == "Content-Type"


def test_more_entries_than_one_request_takes_are_too_large(tablet, db):
    record = tablet.opens()
    for _ in range(501):
        tablet.sets(record, NAME, "ALDERMERE", seen=[])
    assert tablet.posts(tablet.request(tablet.own)).status == 413
    assert log.head(db).position == 0


def test_more_bytes_than_one_request_takes_are_too_large(tablet, db):
    for size in (4 * 1024 * 1024 + 1, 17 * 1024 * 1024):
        reply = tablet.posts(b"\0" * size)
        assert reply.status == 413
        assert reply.json["status"] == 413
