"""What an exchange asks of the database costs no more once the log is long.

No clock is read: SQLite says which way it goes, and counts its own steps.
Source: sqlite.org/eqp.html ("SCAN" reads a whole table) and
sqlite.org/c3ref/progress_handler.html.
"""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Callable
from contextlib import contextmanager

import pytest

from tests.support.replies import NAME
from webapp.app_db import get_db
from webapp.db import writing
from webapp.record import log
from webapp.record.entry import Header, uuid7
from webapp.record.log import NewEntry

LONG = ("entry", "body", "ruling", "wrap", "later_body", "receipt", "row_sum")
# The newest row is found at once however the plan calls it.
NEWEST = re.compile(r"ORDER BY position DESC LIMIT 1$")
BODY = b'{"said":"34 cm"}'
WAYS: dict[str, Callable] = {
    "gives": lambda tablet, record: tablet.sets(record, NAME, "ALDERMERE"),
    "gives twice": lambda tablet, record: tablet.loses_reply(),
    "comes back after a restore": lambda tablet, record: setattr(
        tablet, "head", {"position": 3, "chain": "ab" * 32}
    ),
}


def fill(db, count: int) -> None:
    """Append entries of many records and logs, as other tablets would."""
    logs = [uuid7() for _ in range(20)]
    with writing(db):
        log.append(
            db,
            [
                NewEntry(
                    Header(1, uuid7(), uuid7(), logs[n % 20], n // 20 + 1, uuid7()),
                    BODY,
                    "opened",
                    "counted",
                )
                for n in range(count)
            ],
        )


@contextmanager
def steps(connection: sqlite3.Connection):
    """Count the virtual machine's steps, in tens, while the block runs."""
    counted = [0]

    def count() -> int:
        counted[0] += 1
        return 0

    connection.set_progress_handler(count, 10)
    yield counted
    connection.set_progress_handler(None, 10)


@contextmanager
def statements(connection: sqlite3.Connection):
    """Collect every statement that runs, its values filled in."""
    told: list[str] = []
    connection.set_trace_callback(told.append)
    yield told
    connection.set_trace_callback(None)


@pytest.fixture
def served(app):
    """The connection that the application's answers use in this thread."""
    with app.app_context():
        return get_db().conn


def scanned(connection: sqlite3.Connection, statement: str) -> list[str]:
    """Return the long tables that a statement reads from end to end."""
    if not re.match(r"(SELECT|INSERT|UPDATE|DELETE)\b", statement.strip()):
        return []
    if NEWEST.search(statement.strip()):
        return []
    plan = connection.execute(f"EXPLAIN QUERY PLAN {statement}").fetchall()
    named = {name: name for name in LONG}
    for table, short in re.findall(r"\b(?:FROM|JOIN) (\w+) ([a-z])\b", statement):
        named[short] = table if table in LONG else ""
    whole = [m[1] for row in plan if (m := re.match(r"SCAN (\w+)", row[3]))]
    return [named[name] for name in whole if named.get(name)]


@pytest.mark.parametrize(
    ("statement", "found"),
    [
        ("SELECT e.id FROM entry e WHERE e.received_at = 'x'", ["entry"]),
        ("DELETE FROM wrap WHERE record = 'x'", ["wrap"]),
        ("SELECT 1 FROM lost l JOIN body b WHERE b.form = l.log", ["body"]),
        ("SELECT e.id FROM entry e WHERE e.position = 3", []),
        ("SELECT id FROM person", []),
    ],
)
def test_a_statement_that_reads_a_long_table_through_is_found(served, statement, found):
    assert scanned(served, statement) == found


@pytest.mark.parametrize("way", WAYS.values(), ids=WAYS)
def test_no_statement_of_an_exchange_reads_a_long_table_through(
    tablet, db, served, way
):
    record = tablet.opens()
    tablet.sets(record, NAME, "FJORDHOLM")
    tablet.syncs()
    fill(db, 200)
    tablet.sets(record, NAME, "STRANDLUND")
    way(tablet, record)
    with statements(served) as told:
        tablet.syncs()
    assert len(told) > 10
    assert {s: t for s in told if (t := scanned(served, s))} == {}


def test_an_exchange_takes_as_many_steps_when_the_log_is_ten_times_as_long(
    tablet, db, served
):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    taken = []
    for more in (1_000, 9_000):
        fill(db, more)
        tablet.sets(record, NAME, f"ALDER {more}")
        with steps(served) as counted:
            tablet.syncs()
        taken.append(counted[0])
    assert taken[0] > 10
    # The record itself has one entry more.
    assert taken[1] < 1.2 * taken[0]


def test_a_tablets_own_long_log_costs_no_more_steps(tablet, db, served):
    record, other = tablet.opens(), uuid7()
    taken = []
    for more in (1_000, 9_000):
        own = tablet.writer
        with writing(db):
            log.append(
                db,
                [
                    NewEntry(
                        Header(1, uuid7(), other, own.log, own.tip + n, uuid7()),
                        BODY,
                        "opened",
                        "counted",
                    )
                    for n in range(1, more + 1)
                ],
            )
        own.tip += more
        tablet.sets(record, NAME, f"ALDER {more}")
        tablet.syncs()
        tablet.sets(record, NAME, f"ALDER {more} again")
        with steps(served) as counted:
            tablet.syncs()
        taken.append(counted[0])
    assert taken[1] < 1.2 * taken[0]
