"""The one place where the database is opened and written to."""

from __future__ import annotations

import importlib.util
import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from itertools import chain
from pathlib import Path
from typing import Any

from sqlite_utils import Database

from webapp import row_sums
from webapp.paths import migrations_folder

BUSY_TIMEOUT_S = 10
_ROWS_AT_ONCE = 100


def connect(path: Path | str) -> Database:
    """Open the database at `path` with every safety on. Does not migrate."""
    connection = sqlite3.connect(
        str(path),
        timeout=BUSY_TIMEOUT_S,
        isolation_level=None,
        check_same_thread=False,
    )
    connection.row_factory = sqlite3.Row
    connection.execute("PRAGMA foreign_keys = ON")
    connection.execute("PRAGMA journal_mode = WAL")
    # An entry is called kept only when it is on the disk.
    connection.execute("PRAGMA synchronous = FULL")
    # Else INSERT OR REPLACE slips past a delete trigger.
    connection.execute("PRAGMA recursive_triggers = ON")
    row_sums.register(connection)
    return Database(connection)


def insert_many(db: Database, into: str, rows: Sequence[tuple[Any, ...]]) -> None:
    """Insert many rows with few statements; `into`: a table of our own, with columns.

    At each statement other threads get Python's lock, and keep it for a while.
    """
    for start in range(0, len(rows), _ROWS_AT_ONCE):
        some = rows[start : start + _ROWS_AT_ONCE]
        row = f"({','.join('?' * len(some[0]))})"
        db.conn.execute(
            f"INSERT INTO {into} VALUES {','.join([row] * len(some))}",  # noqa: S608
            list(chain.from_iterable(some)),
        )


@contextmanager
def writing(db: Database) -> Iterator[Database]:
    """Hold the write lock for the block, then commit; roll back on any exception.

    Begins IMMEDIATE: a deferred transaction fails at once under a second writer.
    """
    db.conn.execute("BEGIN IMMEDIATE")
    try:
        yield db
    except BaseException:
        db.conn.execute("ROLLBACK")
        raise
    db.conn.execute("COMMIT")


def migrate(db: Database) -> list[str]:
    """Apply every pending migration in file order; return the names applied."""
    applied: list[str] = []
    for file in sorted(migrations_folder().glob("m[0-9]*.py")):
        spec = importlib.util.spec_from_file_location(f"migration_{file.stem}", file)
        if spec is None or spec.loader is None:
            raise ImportError(f"migration {file.name} cannot be read")
        module = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(module)
        # One unit, the library's own table and its index included; a second start
        # waits here, and then finds nothing pending.
        with writing(db):
            applied += [m.name for m in module.migrations.pending(db)]
            module.migrations.apply(db)
    return applied
