"""The server's log on a real database."""

import sqlite3

import pytest

from webapp.db import connect, migrate, writing
from webapp.record import desk_log, later, log
from webapp.record.entry import Header, decode_body, digest, sha256_hex, uuid7
from webapp.record.log import NewEntry

BODY = b'{"said":"34 cm"}'


@pytest.fixture
def db(tmp_path):
    found = connect(tmp_path / "log.db")
    migrate(found)
    yield found
    found.conn.close()


def new(log_id, seq, record="01890000-0000-7000-8000-000000000002", ruling="counted"):
    header = Header(1, uuid7(), record, log_id, seq, uuid7())
    return NewEntry(header, BODY, "opened", ruling, "" if ruling == "counted" else "x")


def keep(db, *batch):
    with writing(db):
        return [kept.position for kept in log.append(db, batch)]


def test_migrating_twice_changes_nothing(db):
    assert migrate(db) == []


def test_each_entry_chains_to_the_one_before(db):
    one, two = new("a" * 36, 1), new("a" * 36, 2)
    assert keep(db, one, two) == [1, 2]
    first, second = log.entries_of(db, one.header.record)
    assert first.digest == digest(one.header.encode(), sha256_hex(BODY))
    assert second.chain == log.head(db).chain
    assert log.chain_at(db, 1) == first.chain
    assert log.chain_at(db, 3) is None


def test_what_is_called_kept_is_what_is_read(db):
    batch = (new("l", 1), new("l", 2, ruling="set_aside"), new("m", 1))
    with writing(db):
        kept = log.append(db, batch)
    assert kept == log.entries_of(db, batch[0].header.record)
    assert log.span(db, batch[0].header.record) == (1, 3)
    assert log.span(db, uuid7()) == (0, 0)


def test_held_is_the_last_place_up_to_which_none_is_missing(db):
    keep(db, *(new("l", n) for n in (1, 2, 4, 5)))
    assert log.held(db, "l") == 2
    keep(db, new("l", 3))
    assert log.held(db, "l") == 5
    assert log.held(db, "never seen") == 0


def test_held_is_nothing_when_the_first_is_missing(db):
    keep(db, new("l", 2), new("l", 3))
    assert log.held(db, "l") == 0


CHANGES = [
    "UPDATE entry SET seq = 9",
    "DELETE FROM entry",
    "INSERT OR REPLACE INTO entry SELECT position, v, id, record, log, seq, key,"
    " body_sha256, 'other', chain, received_at FROM entry LIMIT 1",
    "REPLACE INTO entry SELECT 99, v, id, record, 'other', seq, key, body_sha256,"
    " digest, chain, received_at FROM entry LIMIT 1",
    "REPLACE INTO entry SELECT 99, v, 'other', record, log, seq, key, body_sha256,"
    " digest, chain, received_at FROM entry LIMIT 1",
    "INSERT OR REPLACE INTO body VALUES (1, 'opened', 'other')",
    "UPDATE body SET bytes = 'other'",
    "DELETE FROM body",
    "UPDATE ruling SET ruling = 'set_aside'",
    "DELETE FROM ruling",
    "INSERT INTO ruling (position, ruling, server_version, ruled_at)"
    " VALUES (1, 'set_aside', '1', 'now')",
]


@pytest.mark.parametrize("recursive", [True, False])
@pytest.mark.parametrize("change", CHANGES)
def test_a_raw_connection_cannot_change_what_is_kept(db, tmp_path, change, recursive):
    keep(db, new("l", 1))
    raw = sqlite3.connect(tmp_path / "log.db")
    raw.execute(f"PRAGMA recursive_triggers = {'ON' if recursive else 'OFF'}")
    with pytest.raises(sqlite3.DatabaseError):
        raw.execute(change)
    raw.close()


def test_a_set_aside_entry_may_be_released_but_not_set_aside_again(db):
    (position,) = keep(db, new("l", 1, ruling="set_aside"))
    (told_at,) = keep(db, new("desk", 1))
    with writing(db):
        later.rule_again(db, position, "counted", "", told_at)
    record = "01890000-0000-7000-8000-000000000002"
    assert [e.ruling for e in log.entries_of(db, record)] == ["counted", "counted"]
    with pytest.raises(sqlite3.DatabaseError), writing(db):
        later.rule_again(db, position, "set_aside", "x", told_at)


def test_an_entry_that_counted_at_receipt_is_never_set_aside(db):
    (position, told_at) = keep(db, new("l", 1), new("desk", 1))
    with pytest.raises(sqlite3.DatabaseError), writing(db):
        later.rule_again(db, position, "set_aside", "x", told_at)


def test_a_failed_batch_leaves_nothing_behind(db):
    keep(db, new("l", 1))
    with pytest.raises(sqlite3.IntegrityError), writing(db):
        log.append(db, [new("l", 2), new("l", 1)])
    assert log.held(db, "l") == 1


def test_an_erased_body_leaves_header_digest_and_chain(db):
    reason = new("l", 1)
    keep(db, reason, new("l", 2))
    before = log.entries_of(db, reason.header.record)[1]
    with writing(db):
        later.erase_body(db, 2, reason.header.id)
    after = log.entries_of(db, reason.header.record)[1]
    assert after.body is None
    assert (after.digest, after.chain) == (before.digest, before.chain)


def test_a_body_is_not_erased_without_an_entry_that_says_why(db):
    keep(db, new("l", 1))
    with pytest.raises(LookupError), writing(db):
        later.erase_body(db, 1, uuid7())
    assert log.entries_of(db, "01890000-0000-7000-8000-000000000002")[0].body == BODY


def test_the_desk_numbers_its_own_log(db):
    record = uuid7()
    person = {"person": "p", "name": "O. Fell-Example", "role": "supervisor"}
    body = {
        "path": "finish.outcome", "op": "set", "value": "not_started", "seen": [],
        "at": {"utc": "2031-11-24T10:41:07.000Z"}, "author": person,
        "entered_by": person, "called_by": None, "source": "seen", "how": "password",
        "salt": "0" * 32,
    }  # fmt: skip
    with writing(db):
        desk_log.append(db, record, body)
        desk_log.append(db, record, body)
    kept = log.entries_of(db, record)
    assert [e.header.seq for e in kept] == [1, 2]
    assert decode_body(kept[0].body) == body
