"""Who opened what."""

from tests.support.cast import SIGNER, hashed_once
from webapp.db import writing
from webapp.people import access_log, accounts
from webapp.people.access_log import Access

RECORD = "0199c0de-0000-7000-8000-000000000001"


def test_a_line_is_read_back_as_it_was_noted(db):
    access_log.note(
        db,
        "record:open",
        person="p",
        tablet="t",
        record=RECORD,
        detail="<b>",
        at="2031-11-24T10:00:00.000Z",
    )
    line = Access("2031-11-24T10:00:00.000Z", "p", "t", "record:open", RECORD, "<b>")
    assert access_log.of_record(db, RECORD) == [line]


def test_who_opened_a_record_stands_latest_first(db):
    person = accounts.add(db, SIGNER, hashed_once)
    access_log.record_access(db, person.id, "record", RECORD)
    access_log.record_access(db, person.id, "note", RECORD)
    access_log.record_access(db, person.id, "codes", "another record")
    whats = [line.what for line in access_log.of_record(db, RECORD)]
    assert whats == ["note:open", "record:open"]


def test_a_line_of_an_undone_transaction_is_undone_with_it(db):
    try:
        with writing(db):
            access_log.note(db, "record:open", record=RECORD)
            raise InterruptedError
    except InterruptedError:
        pass
    assert access_log.latest(db) == []
