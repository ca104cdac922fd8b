"""What is kept and set aside, because."""

import pytest

from tests.support.replies import DECISION, NAME, answers
from tests.support.tablet import stamp
from webapp.record import log, records
from webapp.record.entry import decode_body, digest, sha256_hex, uuid7
from webapp.record.open_record import open_record
from webapp.say import say


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
    from webapp.record.seal import seal
    from webapp.record.writer import SealedEntry

    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    entry = tablet.own.pop()
    header = entry.header._replace(v=2)
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


def test_having_seen_what_is_not_here_yet_is_no_fault(tablet, other_tablet):
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
