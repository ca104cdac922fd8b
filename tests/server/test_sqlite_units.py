"""One request is one unit: all of it is kept, or nothing; others see only the whole."""

import pytest

from tests.support.failing import FailsAfter, is_write, watched
from tests.support.replies import DECISION, NAME
from webapp.app_db import close_held
from webapp.db import connect

DERIVED = ("record", "access_log", "row_sum")


@pytest.fixture
def patient_app(app):
    """An application that answers a failure of its own as it does in use."""
    app.config["TESTING"] = False
    app.config["PROPAGATE_EXCEPTIONS"] = False
    return app


def contents(db, leaving=()):
    names = [name for name in db.table_names() if name not in leaving]
    return {n: [tuple(r) for r in db.conn.execute(f"SELECT * FROM {n}")] for n in names}


def writes(tablet, record):
    """Something of every kind that one exchange may write."""
    tablet.sets(record, NAME, "ALDERMERE-STRAND")
    tablet.adds(record, "moments", DECISION)
    tablet.sets(record, "nowhere.at_all", "set aside")
    tablet.sets(tablet.opens(), NAME, "BRENNHAVN")


class Counts:
    """Counts writes, and notes after which of them the unit of the log was over."""

    def __init__(self):
        self.writes, self.committed = 0, []

    def __call__(self, sql):
        self.writes += is_write(sql)
        if sql == "COMMIT":
            self.committed.append(self.writes)


@pytest.fixture
def record(patient_app, tablet):
    opened = tablet.opens()
    tablet.sets(opened, NAME, "ALDERMERE")
    tablet.syncs()
    return opened


def exchange(tablet, watch):
    """One request over connections of its own, which `watch` sees."""
    close_held()
    with watched(watch):
        reply = tablet.posts(tablet.request())
        close_held()
    return reply


def test_a_failure_after_any_write_keeps_nothing_of_the_request(
    record, tablet, other_tablet, db
):
    other = other_tablet.opens()
    other_tablet.sets(other, NAME, "STRANDLUND")
    other_tablet.syncs()
    writes(other_tablet, other)
    count = Counts()
    assert exchange(other_tablet, count).status == 200
    unit = count.committed[0]
    assert unit >= 8
    writes(tablet, record)
    before = contents(db)
    for number in range(1, unit + 1):
        reply = exchange(tablet, FailsAfter(number, is_write))
        assert reply.status == 500, number
        assert reply.json["ok"] is False
        assert contents(db) == before, number
    tablet.syncs()
    tablet.syncs()
    assert tablet.unsent() == []
    ids = [row[0] for row in db.conn.execute("SELECT id FROM entry")]
    assert len(ids) == len(set(ids)) == len(tablet.own) + len(other_tablet.own)


class FailsBehindTheUnit(FailsAfter):
    """Fails at a write that comes after the entries were committed."""

    is_committed = False

    def __call__(self, sql):
        if self.is_committed:
            super().__call__(sql)
        self.is_committed = self.is_committed or sql == "COMMIT"


def test_a_failure_after_the_unit_keeps_all_of_it_and_sending_again_doubles_nothing(
    record, tablet, db
):
    count = Counts()
    writes(tablet, record)
    assert exchange(tablet, count).status == 200
    behind = count.writes - count.committed[0]
    assert behind >= 1
    for number in range(1, behind + 1):
        tablet.held = len(tablet.own)
        writes(tablet, record)
        body, sent = tablet.request(), [e.header.id for e in tablet.unsent()]
        before = db["entry"].count
        exchange(tablet, FailsBehindTheUnit(number, is_write))
        assert db["entry"].count == before + len(sent)
        again = tablet.posts(body)
        assert [(a["id"], a["answer"]) for a in again.json["answers"]] == [
            (entry, "had") for entry in sent
        ]
        assert db["entry"].count == before + len(sent)


def test_nobody_else_sees_a_part_of_a_request(record, tablet, db, site):
    writes(tablet, record)
    other = connect(site.database)
    before = contents(db)
    seen = []

    def looks(sql):
        if is_write(sql) and not seen_end:
            seen.append(contents(other) == before)
        elif sql == "COMMIT":
            seen_end.append(sql)

    seen_end = []
    assert exchange(tablet, looks).status == 200
    assert len(seen) >= 8
    assert all(seen)
    assert contents(other) != before
    other.conn.close()
