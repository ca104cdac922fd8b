"""A SHA-256 of every row that the log's chain does not cover, kept by triggers.

A changed byte anywhere in such a table no longer fits its sum, and `wiremark verify`
names the row. Sums find damage and careless edits; against somebody who makes them
anew as well stands only what outsiders hold: the heads they were told.
"""

from __future__ import annotations

import hashlib
import sqlite3
from collections.abc import Iterator
from typing import Any

from sqlite_utils import Database

FUNCTION = "row_sha256"
TABLE = "row_sum"
# The chain and its receipts cover the first three; no table can hold its own sum.
COVERED_OTHERWISE = ("entry", "body", "ruling", TABLE)


def register(connection: sqlite3.Connection) -> None:
    """Give a connection the function that the triggers call."""
    connection.create_function(FUNCTION, -1, row_sha256, deterministic=True)


def row_sha256(*values: Any) -> bytes:
    """Return the SHA-256 of values: for each its kind, its length and its bytes."""
    parts: list[bytes] = []
    for value in values:
        kind, raw = _raw(value)
        parts += (b"%c%d:" % (kind, len(raw)), raw)
    return hashlib.sha256(b"".join(parts)).digest()


def guard(db: Database, table: str) -> None:
    """Sum a table's rows from now on, and those that are there.

    A migration that changes a table's columns calls it again.
    """
    columns = [f'"{name}"' for name in db.table(table).columns_dict]
    for when, statements in _TRIGGERS.items():
        db.execute(f'DROP TRIGGER IF EXISTS "{table}_{when}_summed"')
        db.execute(
            f'CREATE TRIGGER "{table}_{when}_summed" AFTER {when.upper()} ON "{table}"'
            f" BEGIN {' '.join(_statement(db, table, s) for s in statements)} END"
        )
    db.execute(f"DELETE FROM {TABLE} WHERE tbl = ?", [table])  # noqa: S608
    db.execute(
        f"INSERT INTO {TABLE} SELECT ?, json_array({', '.join(_keys(db, table))}),"  # noqa: S608
        f' {FUNCTION}({", ".join(columns)}) FROM "{table}"',
        [table],
    )


def summed_tables(db: Database) -> list[str]:
    """Return the tables whose rows are summed, in alphabetical order."""
    return sorted(set(db.table_names()) - set(COVERED_OTHERWISE))


def changed_rows(db: Database, table: str) -> Iterator[str]:
    """Return the keys of rows that no longer fit their sum, or that came or went."""
    columns = ", ".join(f't."{name}"' for name in db.table(table).columns_dict)
    keys = ", ".join(f"t.{name}" for name in _keys(db, table))
    rows = db.conn.execute(
        f"SELECT json_array({keys}), s.sha256, {columns}"  # noqa: S608
        f' FROM "{table}" t LEFT JOIN {TABLE} s'
        f" ON s.tbl = ? AND s.key = json_array({keys}) ORDER BY 1",
        (table,),
    )
    there = set()
    for row in rows:
        there.add(row[0])
        if row[1] != row_sha256(*row[2:]):
            yield str(row[0])
    sums = db.conn.execute(
        f"SELECT key FROM {TABLE} WHERE tbl = ? ORDER BY key",  # noqa: S608
        (table,),
    )
    yield from (str(key) for (key,) in sums if key not in there)


def unknown_sums(db: Database) -> list[str]:
    """Return the tables named by sums that no table is summed for."""
    rows = db.conn.execute(f"SELECT DISTINCT tbl FROM {TABLE}")  # noqa: S608
    known = set(summed_tables(db))
    return sorted(str(name) for (name,) in rows if name not in known)


_KEEP = (
    f"INSERT OR REPLACE INTO {TABLE}"  # noqa: S608
    f" VALUES ('{{table}}', json_array({{new}}), {FUNCTION}({{values}}));"
)
_FORGET = f"DELETE FROM {TABLE} WHERE tbl = '{{table}}' AND key = json_array({{old}});"  # noqa: S608
_TRIGGERS = {
    "insert": (_KEEP,),
    "update": (_FORGET, _KEEP),
    "delete": (_FORGET,),
}


def _statement(db: Database, table: str, statement: str) -> str:
    keys = _keys(db, table)
    return statement.format(
        table=table,
        new=", ".join(f"NEW.{name}" for name in keys),
        old=", ".join(f"OLD.{name}" for name in keys),
        values=", ".join(f'NEW."{name}"' for name in db.table(table).columns_dict),
    )


def _keys(db: Database, table: str) -> list[str]:
    return [f'"{name}"' for name in db.table(table).pks]


def _raw(value: Any) -> tuple[int, bytes]:
    if value is None:
        return ord("n"), b""
    if isinstance(value, bytes):
        return ord("b"), value
    if isinstance(value, str):
        return ord("t"), value.encode("utf-8", "surrogatepass")
    return (ord("f") if isinstance(value, float) else ord("i")), repr(value).encode()
