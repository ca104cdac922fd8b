"""An edit of one thing leaves every other as it stands; nothing is replaced whole."""

import re
import sqlite3
from pathlib import Path

import pytest

from tests.support.replies import DECISION, NAME
from webapp.app_db import get_db
from webapp.db import connect
from webapp.record.open_record import open_record

ROOT = Path(__file__).resolve().parents[2]
# Replaced whole: each time with every column, and nothing belongs to its rows.
WHOLE = {
    "webapp/record/records.py": "record",
    "webapp/row_sums.py": "row_sum",
    "webapp/record/tablet_logs.py": "announced",
}
CHILDREN = {
    "entry": ("body", "ruling"),
    "tablet": ("tablet_log", "announced", "witness"),
}


@pytest.fixture
def record(tablet):
    opened = tablet.opens()
    tablet.sets(opened, NAME, "ALDERMERE")
    tablet.sets(opened, "patient.given_name", "Test-Ines")
    tablet.adds(opened, "moments", DECISION)
    tablet.syncs()
    return opened


def test_an_edit_of_one_field_leaves_the_others_and_the_rows(tablet, record, db):
    tablet.sets(record, NAME, "ALDERMERE-STRAND")
    tablet.syncs()
    case = open_record(db, record).case
    assert case.answer(NAME).value == "ALDERMERE-STRAND"
    assert case.answer("patient.given_name").value == "Test-Ines"
    assert [row.value for row in case.rows("moments")] == [DECISION]


def test_an_edit_leaves_the_signature_and_the_note(tablet, record, cast, db):
    from webapp.db import writing

    with writing(db):
        db.conn.execute(
            "INSERT INTO note VALUES (?, 1, 'x', 'd', ?, 'p', '2031-11-24')",
            (record, b"%PDF"),
        )
        db.conn.execute(
            "INSERT INTO code_line VALUES"
            " (?, 1, 'k', 'v', 'r', 'e', 's', 'e', '0012', 'w')",
            (record,),
        )
    kept = [[tuple(r) for r in db[t].rows_where()] for t in ("note", "code_line")]
    tablet.sets(record, NAME, "ALDERMERE-STRAND")
    tablet.syncs()
    assert kept == [
        [tuple(r) for r in db[t].rows_where()] for t in ("note", "code_line")
    ]


@pytest.mark.parametrize("table", ["entry", "body", "ruling", "note"])
def test_what_is_kept_cannot_be_replaced_or_removed(record, db, table):
    before = [tuple(row) for row in db.conn.execute(f"SELECT * FROM {table}")]
    if table == "note":
        db.conn.execute(
            "INSERT INTO note VALUES (?, 1, 'x', 'd', ?, 'p', '2031-11-24')",
            (record, b"%PDF"),
        )
        before = [tuple(row) for row in db.conn.execute(f"SELECT * FROM {table}")]
    marks = ",".join("?" * len(before[0]))
    with pytest.raises(sqlite3.DatabaseError):
        db.conn.execute(f"INSERT OR REPLACE INTO {table} VALUES ({marks})", before[0])
    with pytest.raises(sqlite3.DatabaseError):
        db.conn.execute(f"DELETE FROM {table}")
    assert [tuple(row) for row in db.conn.execute(f"SELECT * FROM {table}")] == before


@pytest.mark.parametrize(
    ("parent", "child"), [(p, c) for p, found in CHILDREN.items() for c in found]
)
def test_no_row_outlives_or_lacks_the_row_it_belongs_to(record, db, parent, child):
    assert any(key.other_table == parent for key in db[child].foreign_keys)
    for key in db[child].foreign_keys:
        with pytest.raises(sqlite3.IntegrityError):
            db.conn.execute(f"UPDATE {child} SET {key.column} = '999999'")
    assert all(
        "CASCADE" not in (told or "")
        for (told,) in db.conn.execute("SELECT sql FROM sqlite_master")
    )


def test_every_connection_minds_references_and_triggers(app, site):
    own = connect(site.database)
    with app.app_context():
        for db in (own, get_db()):
            found = {
                name: db.conn.execute(f"PRAGMA {name}").fetchone()[0]
                for name in ("foreign_keys", "recursive_triggers", "synchronous")
            }
            # 2 is FULL.
            assert found == {
                "foreign_keys": 1,
                "recursive_triggers": 1,
                "synchronous": 2,
            }
    own.conn.close()


def test_only_what_nothing_belongs_to_is_ever_replaced(db):
    replaces = re.compile(r"^[^#]*(OR\s+REPLACE|replace=True)", re.I | re.M)
    found = {
        str(file.relative_to(ROOT))
        for folder in ("webapp", "migrations")
        for file in (ROOT / folder).rglob("*.py")
        if replaces.search(file.read_text(encoding="utf-8"))
    }
    assert found == set(WHOLE)
    belongs = {k.other_table for n in db.table_names() for k in db[n].foreign_keys}
    assert belongs.isdisjoint(WHOLE.values())
