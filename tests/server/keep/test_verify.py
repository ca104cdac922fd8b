"""`wiremark verify` and `wiremark erase`, as an administrator runs them."""

import sqlite3
from contextlib import closing

import pytest
from click.testing import CliRunner

from tests.support.cast import SIGNER
from tests.support.replies import NAME
from webapp.cli import main
from webapp.record import erase as erasing
from webapp.record import log
from webapp.record.desk import Writer
from webapp.record.entry import decode_body
from webapp.record.open_record import open_record
from webapp.say import say

WRITER = Writer("p", "O. Fell-Example", "supervisor", "Europe/Oslo")


@pytest.fixture
def tablet(cast):
    return cast.tablet()


@pytest.fixture
def wrong_case(tablet):
    """A name typed into the wrong case; return the record and the entry."""
    record = tablet.opens()
    entry = tablet.sets(record, NAME, "TYPED INTO THE WRONG CASE")
    tablet.sets(record, "patient.given_name", "TEST")
    tablet.syncs()
    return record, entry


def run(site, *args):
    env = {"WIREMARK_HOME": str(site.home)}
    return CliRunner().invoke(main, list(args), env=env)


def test_a_whole_database_is_called_whole_with_its_head(site, db, wrong_case):
    told = run(site, "verify")
    head = log.head(db)
    whole = say(
        "verify.whole", entries=2, notes=0, position=head.position, chain=head.chain
    )
    assert (told.exit_code, told.output.strip()) == (0, whole)


def test_the_first_break_is_named_and_the_others_counted(site, db, wrong_case):
    with closing(sqlite3.connect(site.database)) as raw:
        raw.execute("DROP TRIGGER body_never_changes")
        raw.execute("UPDATE body SET bytes = '{}'")
        raw.commit()
    told = run(site, "verify")
    assert told.exit_code == 1
    assert "First break: schema body_never_changes." in told.output
    assert "More breaks: " in told.output
    every = run(site, "verify", "--all").output
    assert "body position 1. The body is not the one that was written." in every
    assert "body position 2. The body is not the one that was written." in every


def test_a_file_that_is_no_database_is_told_so(site, db, tmp_path):
    broken = tmp_path / "notes.txt"
    broken.write_bytes(b"not a database, but long enough to be looked at" * 40)
    told = run(site, "verify", "--file", str(broken))
    assert told.exit_code == 1
    assert "cannot be read any further" in told.output
    assert run(site, "verify", "--file", str(tmp_path / "no")).exit_code == 1


def test_verifying_changes_nothing(site, db, wrong_case):
    before = site.database.read_bytes()
    run(site, "verify")
    assert site.database.read_bytes() == before


def test_an_erased_entry_leaves_its_reason_and_a_whole_log(
    site, cast, db, tablet, wrong_case
):
    record, entry = wrong_case
    assert cast.signer.person.login == SIGNER.login
    told = run(site, "erase", entry, "--by", SIGNER.login, "--reason", "another's name")
    assert told.exit_code == 0, told.output
    case = open_record(db, record).case
    assert case.answer(NAME).heads == ()
    assert case.answer("patient.given_name").words == "TEST"
    erased = log.entry_by_id(db, entry)
    assert erased.body is None
    reason = decode_body(log.entries_of(db, record)[-1].body)
    done = {"path": NAME, "op": "set"}
    assert reason["value"] == {"entry": entry, "reason": "another's name", **done}
    assert reason["author"]["name"] == SIGNER.name
    assert run(site, "verify").exit_code == 0
    wal = site.database.with_name(site.database.name + "-wal")
    left = site.database.read_bytes() + (wal.read_bytes() if wal.exists() else b"")
    assert b"TYPED INTO THE WRONG CASE" not in left
    tablet.exchanges()
    assert tablet.syncs()["went_back"] is False


def test_what_was_erased_is_not_taken_in_again(site, db, tablet, wrong_case):
    _, entry = wrong_case
    erasing.erase(db, entry, WRITER, "another's name")
    reply = tablet.exchanges(tablet.own)
    assert {a["answer"] for a in reply["answers"]} == {"had"}
    assert log.entry_by_id(db, entry).body is None


def test_what_an_erased_answer_replaced_does_not_come_back(db, tablet):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    wrong = tablet.sets(record, NAME, "SOMEBODY ELSE")
    tablet.syncs()
    erasing.erase(db, wrong, WRITER, "another's name")
    assert open_record(db, record).case.answer(NAME).heads == ()
    tablet.syncs()
    assert tablet.shows(record, NAME) == []


@pytest.mark.parametrize(
    ("which", "reason", "word"),
    [
        ("unknown", "because", "erase.unknown"),
        ("own", "  ", "erase.reason"),
        ("gone", "because", "erase.gone"),
        ("desk", "because", "erase.desk"),
    ],
)
def test_what_cannot_be_erased_is_said(db, wrong_case, which, reason, word):
    _, entry = wrong_case
    told = erasing.erase(db, entry, WRITER, "first") if which != "own" else entry
    target = {"unknown": "no-such", "own": entry, "gone": entry, "desk": told}[which]
    with pytest.raises(erasing.CannotErase) as refused:
        erasing.erase(db, target, WRITER, reason)
    assert str(refused.value) == say(word, entry=target)
