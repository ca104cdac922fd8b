"""Receipt, driven by a tablet made of Python over the real protocol."""

import sqlite3

import pytest

from tests.support.replies import NAME, answers, everything
from webapp.db import writing
from webapp.record import log, records, witness
from webapp.record.entry import chain, decode_body, digest, sha256_hex


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
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")

    def fails(*_):
        raise RecursionError("a record nobody can fold")

    monkeypatch.setattr(records, "open_record", fails)
    assert answers(tablet.syncs()) == [("kept", "counted", None)]
    assert records.one_listed(db, record).who == records.NAMELESS
    monkeypatch.undo()
    assert records.one_listed(db, record).who == "ALDERMERE"


def test_a_server_that_dies_before_it_folds_shows_the_entries_at_the_next_look(
    tablet, db, monkeypatch
):
    from webapp.views import sync

    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    monkeypatch.setattr(sync, "refold", lambda *_: None)
    tablet.syncs()
    row = db.conn.execute("SELECT who, fold_version FROM record").fetchone()
    assert tuple(row) == (records.NAMELESS, 0)
    assert [one.who for one in records.listed(db)] == ["ALDERMERE"]
    row = db.conn.execute("SELECT fold_version FROM record").fetchone()
    assert row[0] == records.DERIVED_VERSION


def test_a_database_that_cannot_take_the_list_loses_no_answer(tablet, db, monkeypatch):
    from webapp.views import sync

    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")

    def fails(*_):
        raise sqlite3.OperationalError("database is locked")

    monkeypatch.setattr(sync, "refold", fails)
    assert answers(tablet.syncs()) == [("kept", "counted", None)]
    assert records.one_listed(db, record).who == "ALDERMERE"


def test_what_was_folded_before_more_came_does_not_replace_it(tablet, db, monkeypatch):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    with writing(db):
        records.mark(db, [record], log.utc_now())
    opens = records.open_record

    def meanwhile(*given):
        found = opens(*given)
        monkeypatch.undo()
        tablet.sets(record, NAME, "BRENNHAVN")
        tablet.syncs()
        return found

    monkeypatch.setattr(records, "open_record", meanwhile)
    records.refold_marked(db)
    assert records.one_listed(db, record).who == "BRENNHAVN"


def test_the_records_list_is_up_to_date_when_the_reply_comes(tablet, db):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    assert records.one_listed(db, record).who == "ALDERMERE"
