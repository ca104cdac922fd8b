"""`verify` finds a change of one byte wherever it is, and names the place."""

import random
import sqlite3
from contextlib import closing, contextmanager

import pytest
from sqlite_utils import Database

from tests.support.kept import filled_site, summed_rows
from webapp.db import connect, migrate
from webapp.record.keyring import Keyring
from webapp.record.verify import breaks

# Who is named for what does not answer for itself.
NAMED_FOR = {
    "entry.received_at": {"entry", "receipt"},
    "body.form": {"body", "receipt"},
    "ruling": {"receipt", "ruling"},
    # A sum is told with the row it is for, in whatever table that is.
    "row_sum": {""},
}


@pytest.fixture(scope="module")
def kept(tmp_path_factory):
    """A site with rows in every table, whole."""
    return filled_site(tmp_path_factory.mktemp("verify"))


@pytest.fixture
def copy(kept, tmp_path):
    """The site's database, to be damaged."""
    file = tmp_path / "copy.db"
    one, other = sqlite3.connect(kept.database), sqlite3.connect(file)
    with closing(one), closing(other):
        one.backup(other)
        other.execute("PRAGMA journal_mode = DELETE")
    return file


def found(file, kept, wanted=()):
    """Return where breaks are, up to the first that names one of these."""
    with closing(connect(file).conn) as connection:
        walk = breaks(Database(connection), Keyring(kept.home))
        told = []
        for one in walk:
            told.append(one.where)
            if any(name in one.where for name in wanted):
                break
        return told


def columns():
    db = connect(":memory:")
    migrate(db)
    told = [
        (table, column)
        for table in db.table_names()
        for column in db[table].columns_dict
    ]
    db.conn.close()
    return told


@contextmanager
def unguarded(file, table):
    """Open a database past every guard of one table, as a bad disk does."""
    with closing(sqlite3.connect(file)) as raw:
        guards = raw.execute(
            "SELECT name, sql FROM sqlite_master WHERE type = 'trigger'"
            " AND tbl_name = ?",
            (table,),
        ).fetchall()
        for name, _ in guards:
            raw.execute(f'DROP TRIGGER "{name}"')
        raw.execute("PRAGMA ignore_check_constraints = ON")
        yield raw
        for _, sql in guards:
            raw.execute(sql)
        raw.commit()


def change(file, table, column):
    """Change one byte of one value."""
    rowid = "_rowid_" if table != "row_sum" else "tbl || key"
    with unguarded(file, table) as raw:
        row, value = raw.execute(
            f'SELECT {rowid}, "{column}" FROM "{table}" ORDER BY {rowid} DESC LIMIT 1'
        ).fetchone()
        raw.execute(
            f'UPDATE "{table}" SET "{column}" = ? WHERE {rowid} = ?',
            (other(value), row),
        )


def other(value):
    if value is None:
        return "x"
    if isinstance(value, bytes):
        return bytes([value[0] ^ 1]) + value[1:]
    if isinstance(value, str):
        return chr(ord(value[0]) ^ 1) + value[1:] if value else "x"
    return value + 1


def test_a_whole_database_has_no_break(kept):
    assert found(kept.database, kept) == []


def test_every_table_has_a_row_to_damage(kept):
    assert [t for t, n in summed_rows(kept.database).items() if not n] == []


@pytest.mark.parametrize(("table", "column"), columns(), ids=lambda name: name)
def test_one_changed_byte_is_named(copy, kept, table, column):
    change(copy, table, column)
    wanted = NAMED_FOR.get(f"{table}.{column}") or NAMED_FOR.get(table, {table})
    told = found(copy, kept, wanted)
    assert told
    assert any(name in told[-1] for name in wanted), told


@pytest.mark.parametrize("table", sorted({t for t, _ in columns()} - {"row_sum"}))
def test_one_row_that_is_gone_is_named(copy, kept, table):
    with unguarded(copy, table) as raw:
        raw.execute(
            f'DELETE FROM "{table}" WHERE _rowid_ ='
            f' (SELECT min(_rowid_) FROM "{table}")'
        )
    assert found(copy, kept)


def test_a_guard_taken_away_is_named(copy, kept):
    with closing(sqlite3.connect(copy)) as raw:
        raw.execute("DROP TRIGGER entry_never_changes")
        raw.commit()
    assert found(copy, kept) == ["schema entry_never_changes"]


@pytest.mark.parametrize("seed", range(40))
def test_a_flipped_bit_of_the_file_is_found_or_changes_nothing(copy, kept, seed):
    draw = random.Random(seed)
    raw = bytearray(copy.read_bytes())
    for _ in range(3):
        raw[draw.randrange(len(raw))] ^= 1 << draw.randrange(8)
    before = said(copy)
    copy.write_bytes(bytes(raw))
    try:
        is_named = bool(found(copy, kept))
    except sqlite3.DatabaseError:
        return
    assert is_named or said(copy) == before


def said(file):
    """Return all that the database says, or that it cannot be read."""
    with closing(sqlite3.connect(file)) as raw:
        try:
            return list(raw.iterdump())
        except (sqlite3.DatabaseError, UnicodeDecodeError):
            return None
